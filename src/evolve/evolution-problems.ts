import type { EvolutionProgram } from '../model/index.ts';
import { type Problem, problem } from '../problem/index.ts';
import type { BranchFault } from './start-branches.ts';

const place = { step: 'motion' };

/** `t = 1.25 s, x = 0.4 m, v = -0.1 m/s` */
function describeMoment(program: EvolutionProgram, t: number, y: Float64Array): string {
  const states = program.stateNames.map((name, i) => {
    const unit = program.stateUnits[i];
    return `${name} = ${formatPlain(y[i])}${unit === '' ? '' : ` ${unit}`}`;
  });
  return [`t = ${formatPlain(t)} s`, ...states].join(', ');
}

function formatPlain(value: number): string {
  return Number.isFinite(value) ? String(Number(value.toPrecision(6))) : 'not a number';
}

export function startNotFinite(program: EvolutionProgram, y: Float64Array): Problem {
  const guilty = program.stateNames.filter((_, i) => !Number.isFinite(y[i]));
  return problem(
    'start-not-finite',
    place,
    `The start value of ${guilty.join(' and ')} is not a finite number with these quantities.`,
    'Look for a division by zero or a root of a negative number in its start.',
  );
}

export function ratesNotFinite(program: EvolutionProgram, y: Float64Array, rates: Float64Array): Problem {
  const guilty = program.stateNames.filter((_, i) => !Number.isFinite(rates[i]));
  return problem(
    'rate-not-finite',
    place,
    `The rate of ${guilty.join(' and ')} is not a finite number at the start (${describeMoment(program, 0, y)}).`,
    'Look for a division by zero or a root of a negative number in it.',
  );
}

export function durationNotPositive(duration: number): Problem {
  return problem(
    'duration-not-positive',
    place,
    `The model lasts ${formatPlain(duration)} s with these quantities; it must last a positive, finite time.`,
  );
}

export function stopTrueAtStart(program: EvolutionProgram, name: string, y: Float64Array): Problem {
  return problem(
    'stop-true-at-start',
    place,
    `The stop "${name}" is already true at the start (${describeMoment(program, 0, y)}); a stop must become true during the motion.`,
  );
}

export function jumpTrueAtStart(program: EvolutionProgram, jump: number, y: Float64Array): Problem {
  const { name, place: where } = program.jumps[jump];
  return problem(
    'jump-true-at-start',
    where,
    `The condition of the jump "${name}" is already true at the start (${describeMoment(program, 0, y)}); a jump comes at the moment when its condition becomes true.`,
  );
}

export function jumpNotFinite(program: EvolutionProgram, jump: number, t: number, y: Float64Array): Problem {
  const { name, place: where } = program.jumps[jump];
  return problem(
    'jump-not-finite',
    where,
    `The jump "${name}" sets a value that is not a finite number: ${describeMoment(program, t, y)}.`,
    'Look for a division by zero or a root of a negative number in it.',
  );
}

export function jumpsPileUp(program: EvolutionProgram, jump: number, t: number, y: Float64Array): Problem {
  const { name, place: where } = program.jumps[jump];
  return {
    ...problem(
      'jumps-pile-up',
      where,
      `The jump "${name}" comes faster and faster and piles up at ${describeMoment(program, t, y)}; the model does not say what comes after, and the motion is taken to end there.`,
      'End the motion before with a stop or with "lasts", if that is what you want.',
    ),
    severity: 'warning',
  };
}

export function jumpStays(program: EvolutionProgram, jump: number, t: number, y: Float64Array): Problem {
  const { name, place: where } = program.jumps[jump];
  return {
    ...problem(
      'jump-stays',
      where,
      `The jump "${name}" leaves its own condition true at ${describeMoment(program, t, y)}, and nothing moves away from it; the model does not say what comes after, and the motion is taken to end there.`,
    ),
    severity: 'warning',
  };
}

export function tooManySteps(program: EvolutionProgram, steps: number, t: number, y: Float64Array): Problem {
  return problem(
    'too-many-steps',
    place,
    `The motion was given up after ${steps} steps at ${describeMoment(program, t, y)}: ${comingEnd(program)} had not come.`,
    'Check that it can come, or allow more steps.',
  );
}

export function stopNeverComes(
  program: EvolutionProgram,
  maxTimeS: number,
  t: number,
  y: Float64Array,
): Problem {
  return problem(
    'stop-never-comes',
    place,
    `After ${formatPlain(maxTimeS)} s of motion ${comingEnd(program)} has not come (${describeMoment(program, t, y)}).`,
    'Check the stops, or say with "lasts" how long the model runs.',
  );
}

export function neverMoves(program: EvolutionProgram, y: Float64Array): Problem {
  return problem(
    'never-moves',
    place,
    `Nothing moves at the start (${describeMoment(program, 0, y)}) and nothing can ever change, so ${comingEnd(program)} cannot come.`,
    'Start away from balance, or with less friction, or say with "lasts" how long the model runs.',
  );
}

export function comesToRest(program: EvolutionProgram, t: number, y: Float64Array): Problem {
  return {
    ...problem(
      'comes-to-rest',
      place,
      `The motion comes to rest at ${describeMoment(program, t, y)} before ${comingEnd(program)} comes, and nothing can change after that; it is taken to end there.`,
    ),
    severity: 'warning',
  };
}

export function notFinite(program: EvolutionProgram, t: number, y: Float64Array): Problem {
  return problem(
    'not-finite',
    place,
    `The motion has no finite continuation after ${describeMoment(program, t, y)}.`,
    'A rate or condition grows without bound there, or asks for the root or logarithm of a negative number.',
  );
}

export function stepTooSmall(program: EvolutionProgram, t: number, y: Float64Array): Problem {
  return problem(
    'step-too-small',
    place,
    `No step is small enough to follow the motion at ${describeMoment(program, t, y)}.`,
    'A rate jumps or grows without bound there without a sign, if, abs, min, max or dry that says where.',
  );
}

export function chatters(program: EvolutionProgram, index: number, t: number, y: Float64Array): Problem {
  const found = program.switches[index];
  return problem(
    'chattering',
    found.place,
    `The switching function ${found.text} is driven back to zero from both sides at ${describeMoment(program, t, y)}, so no branch can be right.`,
    'If this is friction, write dry(limit, velocity) instead of limit*sign(velocity): it knows how to stick.',
  );
}

export function branchProblem(
  program: EvolutionProgram,
  fault: BranchFault,
  t: number,
  y: Float64Array,
): Problem {
  if (fault.kind === 'both-sides-push-back') return chatters(program, fault.index, t, y);
  const { text, place: where } = program.frictions[fault.fault.index].limits[fault.fault.limit];
  const moment = describeMoment(program, t, y);
  switch (fault.fault.kind) {
    case 'no-influence':
      return problem(
        'friction-without-influence',
        where,
        `${text} does not change the rate of its own velocity at ${moment}, so it cannot hold anything.`,
        'Let it stand in the rate of the velocity that it acts on.',
      );
    case 'pushes-along':
      return problem(
        'friction-pushes',
        where,
        `${text} pushes along its velocity at ${moment}; friction must work against it.`,
        `Write it with a minus sign: - ${text}.`,
      );
    case 'limit-negative':
      return problem(
        'friction-limit-negative',
        where,
        `The limit of ${text} is negative at ${moment}; it must be zero or more.`,
        'Where a pressing force can vanish, write max(0, …).',
      );
    case 'undecided':
      return problem(
        'friction-undecided',
        where,
        `No set of sticking and slipping frictions fits at ${moment}; ${text} is one of them.`,
        'Look for a limit or a velocity that is not a finite number there.',
      );
  }
}

export function interrupted(t: number): Problem {
  return problem('interrupted', place, `The motion was interrupted at t = ${formatPlain(t)} s.`);
}

function comingEnd(program: EvolutionProgram): string {
  const names = program.stops.map((stop) => `"${stop.name}"`);
  if (names.length === 0) return 'the end of the motion';
  return names.length === 1 ? `the stop ${names[0]}` : `none of the stops ${names.join(', ')}`;
}
