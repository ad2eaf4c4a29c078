import type { EvolutionProgram } from '../model/index.ts';

/**
 * The motion as it is recorded: polynomial pieces, and stretches of time with one set of branches.
 *
 * A stretch lies inside one piece; a piece is cut into several stretches where only signals change their branch.
 * A branch record holds the branches, slips and holdings of the inputs, and the modes of the frictions, as numbers.
 */
export interface Track {
  readonly stateCount: number;
  /** Length of one branch record. */
  readonly recordLength: number;
  pieceCount: number;
  pieceStart: Float64Array;
  pieceLength: Float64Array;
  pieceTerms: Uint8Array;
  pieceOffset: Float64Array;
  termCount: number;
  terms: Float64Array;
  stretchCount: number;
  stretchStart: Float64Array;
  stretchPiece: Int32Array;
  stretchRecord: Int32Array;
  recordCount: number;
  records: Float64Array;
  breakCount: number;
  breaks: Float64Array;
}

const startSize = 32;

export function createTrack(program: EvolutionProgram): Track {
  const stateCount = program.stateNames.length;
  const recordLength = program.switches.length + 3 * program.frictions.length;
  return {
    stateCount,
    recordLength,
    pieceCount: 0,
    pieceStart: new Float64Array(startSize),
    pieceLength: new Float64Array(startSize),
    pieceTerms: new Uint8Array(startSize),
    pieceOffset: new Float64Array(startSize),
    termCount: 0,
    terms: new Float64Array(startSize * 8 * stateCount),
    stretchCount: 0,
    stretchStart: new Float64Array(startSize),
    stretchPiece: new Int32Array(startSize),
    stretchRecord: new Int32Array(startSize),
    recordCount: 0,
    records: new Float64Array(4 * recordLength),
    breakCount: 0,
    breaks: new Float64Array(4),
  };
}

export function clearTrack(track: Track): void {
  track.pieceCount = 0;
  track.termCount = 0;
  track.stretchCount = 0;
  track.recordCount = 0;
  track.breakCount = 0;
}

/**
 * Adds a piece.
 *
 * @param piece n × `terms` numbers, as `evaluatePiece` reads them
 * @returns its index
 */
export function addPiece(track: Track, t: number, h: number, piece: Float64Array, terms: number): number {
  const index = track.pieceCount++;
  if (index >= track.pieceStart.length) {
    track.pieceStart = grow(track.pieceStart, index + 1);
    track.pieceLength = grow(track.pieceLength, index + 1);
    track.pieceOffset = grow(track.pieceOffset, index + 1);
    const grown = new Uint8Array(track.pieceStart.length);
    grown.set(track.pieceTerms);
    track.pieceTerms = grown;
  }
  const length = terms * track.stateCount;
  if (track.termCount + length > track.terms.length) {
    track.terms = grow(track.terms, track.termCount + length);
  }
  track.pieceStart[index] = t;
  track.pieceLength[index] = h;
  track.pieceTerms[index] = terms;
  track.pieceOffset[index] = track.termCount;
  const target = track.terms;
  const offset = track.termCount;
  for (let i = 0; i < length; i++) target[offset + i] = piece[i];
  track.termCount += length;
  return index;
}

/** Adds a stretch that begins at `t` inside a piece, with a branch record. */
export function addStretch(track: Track, t: number, piece: number, record: number): void {
  const index = track.stretchCount++;
  if (index >= track.stretchStart.length) {
    track.stretchStart = grow(track.stretchStart, index + 1);
    track.stretchPiece = growIndices(track.stretchPiece, index + 1);
    track.stretchRecord = growIndices(track.stretchRecord, index + 1);
  }
  track.stretchStart[index] = t;
  track.stretchPiece[index] = piece;
  track.stretchRecord[index] = record;
}

/** Keeps the present branches of a program's inputs; returns the index of the record. */
export function addRecord(
  track: Track,
  program: EvolutionProgram,
  inputs: Float64Array,
  modes: Int8Array,
): number {
  const index = track.recordCount++;
  const { recordLength } = track;
  if ((index + 1) * recordLength > track.records.length) {
    track.records = grow(track.records, (index + 1) * recordLength);
  }
  const { branches, slips, holdings } = program.inputs;
  const m = program.switches.length;
  const q = program.frictions.length;
  const { records } = track;
  let at = index * recordLength;
  for (let i = 0; i < m; i++) records[at++] = inputs[branches + i];
  for (let i = 0; i < q; i++) records[at++] = inputs[slips + i];
  for (let i = 0; i < q; i++) records[at++] = inputs[holdings + i];
  for (let i = 0; i < q; i++) records[at++] = modes[i];
  return index;
}

export function addBreak(track: Track, t: number): void {
  if (track.breakCount > 0 && track.breaks[track.breakCount - 1] === t) return;
  const index = track.breakCount++;
  if (index >= track.breaks.length) track.breaks = grow(track.breaks, index + 1);
  track.breaks[index] = t;
}

function grow(array: Float64Array, least: number): Float64Array<ArrayBuffer> {
  const grown = new Float64Array(Math.max(least, 2 * array.length));
  grown.set(array);
  return grown;
}

function growIndices(array: Int32Array, least: number): Int32Array<ArrayBuffer> {
  const grown = new Int32Array(Math.max(least, 2 * array.length));
  grown.set(array);
  return grown;
}
