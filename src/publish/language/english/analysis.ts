import { type Part, say } from '../../document/index.ts';

/** From readings to results, and the comparison with theory. */
export const analysis = {
  motionFromEdges: (instrument: Part, radius: Part, columns: Part) =>
    say`Each mark of the ${instrument} is one spacing further along. Number the marks: position = start + number × spacing (the radius is ${radius}). The speed between two marks is the spacing over the time between them, and belongs to the middle of that time. This gives ${columns}.`,
  motionFromSamples: (instrument: Part, columns: Part) =>
    say`The ${instrument} gives the place at equal times. The speed is the change of place over the time that it took, and belongs to the middle of that time. This gives ${columns}.`,
  motionFromGates: (instrument: Part, columns: Part) =>
    say`Each gate of the ${instrument} stands at a known place. The speed there is the width of the flag over the time that it takes to pass. This gives ${columns}.`,
  motionFromFrames: (instrument: Part, columns: Part) =>
    say`Read the place in each picture of the ${instrument}. The speed is the change of place between pictures over the time between them. This gives ${columns}.`,
  readings: (instrument: Part, columns: Part) => say`Take the readings of the ${instrument}: ${columns}.`,
  keepWhile: (condition: Part) =>
    say`Keep only the readings for which ${condition}; the theory is meant for those.`,
  keepTo: (condition: Part) => say`Leave out everything from the first reading on at which ${condition}.`,
  keepFrom: (condition: Part) => say`Leave out everything before the first reading at which ${condition}.`,
  keepPlain: 'Keep the part of the run for which the theory is meant.',
  line: (y: Part, x: Part) => say`Plot ${y} against ${x} and draw the straight line that fits best.`,
  slopeIs: (name: Part) => say`Its slope is ${name}.`,
  interceptIs: (name: Part) => say`Where it meets the upright axis you read ${name}.`,
  polynomial: (y: Part, x: Part, degree: Part) =>
    say`Plot ${y} against ${x} and fit a polynomial of degree ${degree}.`,
  fit: (y: Part, curve: Part) => say`Fit the curve ${curve} to ${y}.`,
  mean: (of: Part, name: Part) => say`Take the mean of ${of}; call it ${name}.`,
  meanWhile: (of: Part, condition: Part, name: Part) =>
    say`Take the mean of ${of} over the readings for which ${condition}; call it ${name}.`,
  peak: (of: Part, name: Part) => say`Find the largest value of ${of}; call it ${name}.`,
  period: (of: Part, name: Part, count: Part) =>
    say`Find the moments at which ${of} passes its level in the same direction. The time from one to the next is a period; the mean of the first ${count} is ${name}.`,
  periodAll: (of: Part, name: Part) =>
    say`Find the moments at which ${of} passes its level in the same direction. The time from one to the next is a period; their mean is ${name}.`,
  value: (of: Part, name: Part) => say`Work out ${name} = ${of}.`,
  column: (of: Part, name: Part) => say`Work out ${name} = ${of} for every reading.`,
  zero: (column: Part) => say`Take off from ${column} what it shows when nothing acts.`,
  smooth: (column: Part) =>
    say`Smooth ${column} over a few neighbouring readings, as far as the scatter asks for it and no farther.`,
  derivative: (of: Part, name: Part) =>
    say`From neighbouring readings of ${of} work out how fast it changes; call it ${name}.`,
  otherStep: (words: Part) => say`Next step: ${words}.`,
  acrossIntroduction: 'Then with the results of all runs together:',
  uncertainty:
    'Write each result with its uncertainty: repeat runs tell how much it scatters, the fit tells how well one run fixes it.',

  compareIntroduction: 'Work out what theory says with your own values, and write both into the table.',
  compareCaption: 'Theory and measurement',
  theory: 'theory',
  measured: 'measured',
  difference: 'measured − theory',
  differenceRule: 'A difference counts when it is larger than about twice its uncertainty. Is yours?',
  howLarge: (result: Part) =>
    say`By how many per cent does your ${result} differ from theory, and which way?`,
  howLargeFromNought: (result: Part) =>
    say`Theory says nought. By how much does your ${result} differ from that, and is it more than chance?`,
  gapFromNought: (full: Part) => say`With everything that the lab knows of, the full model gives ${full}.`,
  gapIs: (change: Part, share: Part, full: Part) =>
    say`With everything that the lab knows of, the full model differs from theory by ${change}, that is ${share} of theory: it gives ${full}.`,
  noTheory: 'Theory says nothing of it.',
};
