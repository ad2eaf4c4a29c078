import { type Part, say } from '../../document/index.ts';

/** Set-up, procedure, data. */
export const setup = {
  apparatus:
    'Your apparatus. Measure what can be measured, and write your own values beside those that are given.',
  apparatusCaption: 'Quantities of the apparatus',
  looksAt: (instrument: Part, kind: Part, signal: Part) =>
    say`The ${instrument} is ${kind}; what it sees is ${signal}.`,
  reads: (instrument: Part, kind: Part, signal: Part) =>
    say`The ${instrument} is ${kind}; what is read on it is ${signal}.`,
  looks: (instrument: Part, kind: Part) => say`The ${instrument} is ${kind}.`,
  kinds: {
    edges: 'a gate that notes the time whenever the next mark passes it',
    sampled: 'a sensor that is read at equal intervals of time',
    gates: 'a set of gates at fixed places, each of which notes when it is passed',
    frames: 'a camera whose pictures give the place at equal intervals of time',
    stopwatch: 'a stopwatch, started and stopped by hand',
    ruler: 'a scale that is read by eye',
  },
  kindNames: {
    edges: 'times of marks',
    sampled: 'equal steps of time',
    gates: 'times at places',
    frames: 'pictures',
    stopwatch: 'stopwatch',
    ruler: 'scale',
  },
  stepNames: {
    'motion from edges': 'motion from marks',
    'motion from samples': 'motion from readings',
    'motion from gates': 'motion from gates',
    'motion from frames': 'motion from pictures',
    readings: 'readings',
    keep: 'keep while',
    line: 'straight line:',
    polynomial: 'polynomial:',
    fit: 'fit:',
    mean: 'mean of',
    peak: 'largest value of',
    period: 'period of',
    value: 'value of',
    column: 'work out',
    zero: 'set to zero:',
    smooth: 'smooth',
    derivative: 'rate of change of',
  },
  against: ' against ',
  otherKind: (kind: string) => `an instrument of the kind “${kind}”`,
  withSettings: (settings: Part) => say` Its settings: ${settings}.`,
  settingIs: (name: Part, value: Part) => say`${name} ${value}`,
  settingNames: {
    'edges per turn': 'marks per turn',
    clock: 'clock step',
    phase: 'phase of the first mark',
    'lost edges': 'share of lost marks',
    rate: 'rate of readings',
    interval: 'time between readings',
    resolution: 'resolution',
    noise: 'noise',
    lag: 'time constant',
    range: 'range',
    zero: 'zero offset',
    starts: 'first reading at',
    at: 'places',
    flag: 'width of the flag',
    pixel: 'size of a pixel',
    exposure: 'exposure time',
    counts: 'periods counted',
    reaction: 'reaction time',
    spread: 'scatter of the hand or eye',
    division: 'division of the scale',
  },
  schematic: 'How the lab hangs together',

  measureFirst: (symbols: Part) =>
    say`Measure ${symbols} and write the values into the table of quantities, each with its uncertainty.`,
  settingsInTurn: (settings: Part) => say`Take these settings one after another: ${settings}.`,
  setOnce: 'Set up everything as given in the table.',
  start: {
    edges: (instrument: Part) =>
      say`Arm the ${instrument} before anything moves, so that the first mark counts.`,
    sampled: (instrument: Part) =>
      say`Start the recording of the ${instrument} a moment before the run begins.`,
    gates: (instrument: Part) => say`Set the ${instrument} to zero and check that each gate answers.`,
    frames: (instrument: Part) =>
      say`Start the ${instrument}; it stands still and sees the whole motion, with a length of known size in the same plane.`,
    stopwatch: (instrument: Part) =>
      say`Hold the ${instrument} ready; the same person starts and stops it every time.`,
    ruler: (instrument: Part) => say`Read the ${instrument} with the eye straight in front of the mark.`,
  },
  startOther: (instrument: Part) => say`Make the ${instrument} ready.`,
  letGo: (start: Part) =>
    say`Hold everything still at ${start}. Let go without a push and without holding back.`,
  letGoPlain: 'Hold everything still, then let go without a push and without holding back.',
  beginAt: (start: Part) => say`Bring everything to ${start}, wait until nothing changes, then begin.`,
  beginPlain: 'Wait until nothing changes, then begin.',
  endsWhen: (stop: Part) => say`The run is over when this happens: ${stop}.`,
  lasts: (time: Part) => say`Record for ${time}.`,
  readAt: (control: Part, values: Part) =>
    say`Set ${control} to each of these values and take the reading: ${values}.`,
  save: 'Save the readings of each run as they are, with the setting and the number of the run in the name. Never change them afterwards.',
  repeat: (runs: number, settings: number) =>
    settings > 1
      ? `Take ${runs} good runs under each of the ${settings} settings, ${runs * settings} in all.`
      : runs > 1
        ? `Take ${runs} good runs.`
        : 'Take one good run, and a second one to see whether it agrees.',
  lookAtOnce:
    'Look at each run at once. Where something went wrong, note what it was and take the run again; a run is set aside for a reason, not for its result.',

  resultsCaption: 'Results of your runs',
  readingsCaption: (instrument: Part) => say`Readings of the ${instrument}`,
  readingsOfRun: 'Readings of one run',
  remark: 'remark',
};
