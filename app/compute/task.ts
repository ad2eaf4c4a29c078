import type { Outcome } from '../../src/problem/index.ts';
import type { Room } from './room.ts';

/** What a task may tell while it works. */
export interface Report {
  progress(done: number, total: number, what: string): void;
}

/**
 * One kind of work that a worker does.
 *
 * Question and answer are plain data: numbers, texts, typed arrays, lists and records of them; no functions.
 */
export interface Task<Question, Answer> {
  run(room: Room, question: Question, report: Report): Promise<Outcome<Answer>>;
}
