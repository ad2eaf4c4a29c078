import { type Part, say } from '../../document/index.ts';

/** The teacher guide, the answer key, the equipment list, the set-up sheet, the data sheet. */
export const guide = {
  overviewRuns: (runs: number, settings: number) =>
    settings > 1 ? `${runs} runs, ${runs / settings} under each of ${settings} settings.` : `${runs} runs.`,
  handouts: (levels: Part) => say`Handouts: ${levels}.`,
  expectsOf: (result: Part, value: Part) => say`A good run gives ${result} = ${value}.`,
  theoryWould: (value: Part) => say` Ideal theory would give ${value}.`,
  madeUp: 'The numbers in this guide are computed from the lab file and the sample runs; none is typed.',

  minutes: (part: Part, minutes: Part) => say`${part}: about ${minutes} min`,
  timingParts: {
    introduction: 'question and prediction',
    setup: 'set-up and first look',
    runs: 'runs',
    analysis: 'analysis and comparison',
    discussion: 'discussion',
  },
  timingRule: (duration: Part) =>
    say`One run takes ${duration}; three minutes a run are reckoned for putting back, recording and noting (common practice, no source).`,
  timingRuleStill:
    'Three minutes a run are reckoned for setting, reading and noting (common practice, no source).',
  timingTotal: (minutes: number) =>
    `Together about ${minutes} min. Shared out among groups the runs take less.`,

  resultsCaption: (result: Part) => say`Expected values of ${result}`,
  theory: 'ideal theory',
  full: 'full model',
  scatter: 'scatter of one run',
  measured: (runs: string) => `measured in ${runs}`,
  sampleRuns: 'sample runs',
  resultsNote:
    'Uncertainties are standard uncertainties. That of the full model is what the stated quantities bring; the scatter of one run is what the instruments add, from rehearsals with their noise.',
  rehearsedBand: (result: Part, low: Part, high: Part) =>
    say`Rehearsed with other apparatus of the same kind, 95 of 100 classes get ${result} between ${low} and ${high} (mean of all their runs).`,

  kitsCaption: 'Other equipment, and what it gives',
  kit: 'kit',
  changes: 'what changes',
  ownEquipment: 'as described',
  outlookCaption: (result: Part) => say`How other equipment will do, judged by ${result}`,
  outlookFigure: (result: Part) =>
    say`${result} with other equipment: expected, with its scatter from school to school, and theory`,
  expected: 'expected',
  band: '95 of 100 schools',
  gapToTheory: 'gap to theory',
  inWindow: 'readings',
  willIt: 'judgement',
  equipmentVerdicts: {
    'works well': 'works well',
    'works with care': 'works with care',
    'will disappoint': 'will disappoint',
  },
  reasons: {
    cannotRun: 'it cannot be run',
    fails: (share: Part) => say`${share} of the rehearsals fail`,
    fewReadings: (readings: Part) => say`only ${readings} readings count`,
    scatter: (share: Part) => say`it scatters by ${share} from school to school`,
    gap: (share: Part) => say`the gap to theory is ${share}`,
    endsEarly: (condition: Part) => say`it is soon no longer true that ${condition}`,
    hazard: 'it can hurt more: see the cautions',
  },
  judgedSo: (care: Part, disappoint: Part) =>
    say`Care is asked for from ${care} on, and disappointment foretold from ${disappoint} on (common practice, no source).`,
  limitsCare: (readings: Part, scatter: Part, gap: Part) =>
    say`fewer than ${readings} readings, a scatter of ${scatter} or a gap of ${gap}`,
  bandHead: '95 of 100 groups',
  pooled: (groups: Part, result: Part, value: Part) =>
    say`All ${groups} groups together find ${result} = ${value} (with the scatter from class to class).`,
  pooledTheory: (value: Part) => say` Theory gives ${value}.`,
  stationsCaption: 'Stations, and what each should get',

  gapStart: (theory: Part, full: Part) =>
    say`Ideal theory gives ${theory}; with all effects the model gives ${full}.`,
  gapStartIdeal: (ideal: Part, full: Part) =>
    say`The ideal model gives ${ideal}; with all effects it gives ${full}.`,
  effectByEffect: 'Effect by effect:',
  reductionShift: (shift: Part) =>
    say`The steps of the analysis themselves shift an ideal run by ${shift}; that part is in both theory and measurement and does not count as an effect.`,
  makesLarger: (result: Part, change: Part, share: Part) =>
    say`It makes ${result} larger by ${change}${share}.`,
  makesSmaller: (result: Part, change: Part, share: Part) =>
    say`It makes ${result} smaller by ${change}${share}.`,
  ofIdeal: (share: Part) => say` (${share} of the ideal value)`,
  isNegligible: (result: Part, change: Part) => say`It hardly changes ${result} (${change}).`,
  measuredIs: (runs: string, value: Part) => say`Measured in ${runs}: ${value}.`,
  remainderIs: (value: Part, times: Part) =>
    say`What is left is ${value}, ${times} times its standard uncertainty.`,
  runs: (count: number) => (count === 1 ? '1 run' : `${count} runs`),
  verdicts: {
    explained: 'Nothing is left to explain: what remains is within its uncertainty.',
    doubtful:
      'This is doubtful: what remains is larger than chance would often make it. More runs would tell.',
    unexplained: 'Something is missing: what remains is larger than all stated uncertainties allow.',
    unknown: 'This cannot be judged: no uncertainty is stated that the remainder could be held against.',
  },
  howShared:
    'Where effects act on one another, each gets the mean of what it changes over every order of switching them on, so the lines add up exactly.',
  ledgerCaption: (result: Part) => say`From ideal theory to the measurement of ${result}`,
  inBrackets: 'In brackets: the standard uncertainty, in units of the last digits',
  settingCaption: (result: Part) => say`${result} over the settings: measured, full model and theory`,
  otherSettings: (result: Part) => say`The same for the other settings of ${result}`,
  effect: 'effect',
  remainder: 'remainder',

  modelsIntroduction:
    'Several models were held against the sample runs. Before the runs each was as likely as the next; the weight says how likely it is after them.',
  modelsCaption: 'Models, and the weight that the sample runs give to each',
  model: 'model',
  weight: 'weight',
  leftFree: 'what the runs leave of what it left open',
  modelChosen: (best: Part, odds: Part, next: Part) =>
    say`The runs make the model “${best}” ${odds} times as likely as the next, “${next}”.`,
  modelsPay:
    'A model that leaves more open fits more easily, but it pays for every value that it allowed in vain.',

  sampleCaption: (run: string) => `The run “${run}”: readings, fit, and what is left`,
  readingsOverModel: (run: string) => `The run “${run}”: readings, and what the models expect of them`,
  stepsIntroduction:
    'How far the result of the step loop is from the exact motion, for the two methods that fit the handout:',
  stepsIntroductionOne: 'How far the result of the step loop is from the exact solution:',
  stepsCaption: (result: Part) => say`Error of ${result} by length of step`,
  step: 'step',
  methods: {
    'forward-euler': 'all old values (forward Euler)',
    'semi-implicit-euler': 'speed first (semi-implicit Euler)',
    midpoint: 'midpoint',
    'fourth-order': 'fourth order',
  },
  largestStep: (method: string, step: Part) =>
    say`Largest step that keeps the error below a tenth of the measurement’s uncertainty, ${method}: ${step}.`,

  slipsIntroduction: 'Each slip was put through the same analysis; this is what comes out.',
  slipsCaption: 'Slips, and the numbers that they give',
  slip: 'slip',
  gives: (result: Part) => say`${result} becomes`,
  insteadOf: 'instead of',
  theoryBecomes: (value: Part) => say`theory: ${value}`,
  factor: 'factor',
  unchanged: 'unchanged',

  answersIntroduction:
    'Answers to the questions of the handout. Where they hold numbers, those are for the apparatus as described.',
  answer: 'Answer',
  noAnswer: 'Open question; the reasons count.',
  troubleshootIntroduction: 'When a class gets something else:',
  tooSmall: (result: Part, effect: Part, change: Part) =>
    say`${result} is too small: look first at “${effect}”. If it is twice as large as stated, ${result} drops by another ${change}.`,
  tooLarge: (result: Part, effect: Part, change: Part) =>
    say`${result} is too large: look first at “${effect}”. If it is twice as large as stated, ${result} rises by another ${change}.`,
  farOff: 'A result that is off by a whole factor is most often a slip; compare it with the table of slips.',
  scatters: (result: Part, spread: Part, look: Part) =>
    say`Runs of ${result} that scatter by much more than ${spread} were not taken alike. Look at ${look}.`,
  scatterThen: ', then at ',
  scatterCues: {
    release: 'the release and the clamping',
    began: 'how each run began and what changed or warmed meanwhile',
    wheel: 'whether the wheel slips and every mark passes the gate',
    gates: 'whether a gate was moved between the runs',
    camera: 'whether the camera stood still and square to the motion',
    watch: 'who works the watch and at which sign',
    scale: 'how the scale is read: straight on, and from the same mark each time',
    contacts: 'contacts and leads and what had not come to rest before the start',
    thermometer: 'the stirring, the place of the thermometer and draughts',
    forceZero: 'the zero of the force sensor before each run and what touches it',
  },
  asidesWere: (run: string, reason: Part) => say`In the sample runs “${run}” was set aside: ${reason}.`,
  readerSaid: (run: string, note: Part) => say`Seen in the sample run “${run}”: ${note}`,
  quoted: (run: string) => `“${run}”`,
  likewise: (runs: Part) => say` The same, more or less, in ${runs}.`,
  holdsEnd: (condition: Part, time: Part) =>
    say`From ${time} on it is no longer true that ${condition}; the analysis leaves those readings out by itself.`,

  instrumentsCaption: 'Instruments',
  instrument: 'instrument',
  kind: 'kind',
  settings: 'settings',
  quantitiesCaption: 'Apparatus: what is needed, and how well it must be known',
  uncertainty: 'standard uncertainty',
  alsoNeeded:
    'Besides: a balance and a rule for the quantities above, a computer or paper for the analysis, what the cautions ask for.',
  setupIntroduction:
    'For the person who puts the apparatus up. Values in the table are those that all documents reckon with; measure your own and tell them to the lab file.',
  checkCaption: 'To be set and checked',
  checked: 'checked',
  tolerance: 'within (standard uncertainty)',
  noteEverything:
    'Note everything that was not as planned. A remark made now is worth more than a guess made later.',
};
