import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { BenchStore, type BenchWorld } from '../../app/bench/bench-store.ts';
import { withMine } from '../../app/bench/choose-mine.ts';
import { type DraftStorage, keepDrafts } from '../../app/bench/draft.ts';

const text = (value: string, is = 'length'): string => `benchwright: 1
title: A rod # as found
quantities:
  L: { is: ${is}, value: ${value} } # by the folding rule
`;

const valueOfL = ['quantities', 'L', 'value'];

/** A server with one file, which can be changed by another hand, and be gone. */
function setUp({ mine = true, storage = memory() }: { mine?: boolean; storage?: DraftStorage } = {}) {
  const file = { text: text('1.2 m'), isGone: false };
  const renamed: string[] = [];
  const digestOf = (of: string) => `digest of ${of}`;
  const head = { id: 'rod', folder: 'rod', mine, files: [] };
  const world: BenchWorld = {
    fetchHead: async () => ({ kind: 'ok', value: head }),
    fetchFile: async () =>
      file.isGone
        ? { kind: 'unreachable' }
        : { kind: 'ok', value: { text: file.text, digest: digestOf(file.text) } },
    writeFile: async (next, known) => {
      if (file.isGone) return { kind: 'unreachable' };
      if (known !== digestOf(file.text)) return { kind: 'changed', digest: digestOf(file.text) };
      file.text = next;
      return { kind: 'ok', value: { digest: digestOf(next) } };
    },
    writeCopy: async () => null,
    renameInTexts: async ({ from, to }) => void renamed.push(`${from} to ${to}`),
    drafts: keepDrafts('rod', storage),
    later: (milliseconds, call) => {
      const timer = setTimeout(call, milliseconds);
      return () => clearTimeout(timer);
    },
  };
  const open = () => new BenchStore(head, { text: file.text, digest: digestOf(file.text) }, world);
  return { file, store: open(), open, digestOf, renamed };
}

function memory(): DraftStorage {
  const kept = new Map<string, string>();
  return {
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
    removeItem: (key) => void kept.delete(key),
  };
}

const setL = (store: BenchStore, value: string) =>
  store.edit([{ kind: 'set', at: valueOfL, to: value }], { label: `L to ${value}` });

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

describe('a lab on the bench', () => {
  it('writes edits to its file by itself, with comments kept', async () => {
    const { file, store } = setUp();
    setL(store, '1.3 m');
    await vi.runAllTimersAsync();
    expect(file.text).toContain('value: 1.3 m');
    expect(file.text).toContain('# by the folding rule');
    expect(store.getState().saving).toEqual({ kind: 'saved' });
  });

  it('is read anew after each edit', () => {
    const { store } = setUp();
    setL(store, '1.3 m');
    expect(store.getState().lab?.quantities.byName.get('L')).toMatchObject({ estimate: { value: 1.3 } });
  });

  it('keeps the last lab that made sense while its text makes none', () => {
    const { store } = setUp();
    setL(store, 'one metre');
    expect(store.getState().reading.lab).toBeNull();
    expect(store.getState().lab).not.toBeNull();
    expect(store.getState().labText).toContain('1.2 m');
  });

  it('takes in what another hand changed elsewhere in the file, and keeps its own edits', async () => {
    const { file, store, digestOf } = setUp();
    setL(store, '1.3 m');
    file.text = text('1.2 m', 'length of the rod');
    await store.hear({ kind: 'changed', lab: 'rod', path: 'lab.yaml', digest: digestOf(file.text) });
    await vi.runAllTimersAsync();
    expect(file.text).toContain('1.3 m');
    expect(file.text).toContain('length of the rod');
  });

  it('shows what was changed on both sides, and writes nothing until a person has chosen', async () => {
    const { file, store } = setUp();
    setL(store, '1.3 m');
    file.text = text('1.4 m');
    await vi.runAllTimersAsync();
    expect(file.text).toContain('1.4 m');
    const { clash } = store.getState();
    expect(clash?.theirs).toContain('1.4 m');
    expect(clash?.clashes).toEqual([{ at: valueOfL, mine: '1.3 m', theirs: '1.4 m' }]);
    store.settle(withMine({ text: clash?.merged ?? '', clashes: clash?.clashes ?? [] }));
    await vi.runAllTimersAsync();
    expect(file.text).toContain('1.3 m');
    expect(store.getState().clash).toBeNull();
  });

  it('keeps what is edited while a clash waits, and ends the clash where the own change is undone', async () => {
    const { file, store } = setUp();
    setL(store, '1.3 m');
    store.endGesture();
    file.text = text('1.4 m');
    await vi.runAllTimersAsync();
    store.edit([{ kind: 'set', at: ['title'], to: 'Another rod' }], { label: 'the title' });
    expect(store.getState().clash?.merged).toContain('Another rod');
    store.undo();
    store.undo();
    expect(store.getState().clash).toBeNull();
    expect(store.getState().history.present).toBe(file.text);
  });

  it('has its own side of a clash again after the page was closed', async () => {
    const { file, store, open } = setUp();
    file.isGone = true;
    setL(store, '1.3 m');
    file.text = text('1.4 m');
    for (const again of [open(), open()]) {
      expect(again.getState().history.present).toContain('1.3 m');
      expect(again.getState().clash?.theirs).toContain('1.4 m');
    }
  });

  it('gives a symbol another name in the lab and in the texts, and takes both back', async () => {
    const { file, store, renamed } = setUp();
    expect(store.renameSymbol('L', 'L_1')).toEqual([]);
    await vi.runAllTimersAsync();
    expect(file.text).toContain('  L_1: { is: length, value: 1.2 m } # by the folding rule');
    store.undo();
    store.redo();
    store.undo();
    await vi.runAllTimersAsync();
    expect(file.text).toBe(text('1.2 m'));
    expect(renamed).toEqual(['L to L_1', 'L_1 to L', 'L to L_1', 'L_1 to L']);
    expect(store.renameSymbol('L', 'sin')[0]?.message).toContain('has a meaning of its own');
  });

  it('keeps edits while the server is gone, and writes them when it is back', async () => {
    const { file, store } = setUp();
    file.isGone = true;
    setL(store, '1.3 m');
    await vi.advanceTimersByTimeAsync(1000);
    expect(store.getState().saving).toEqual({ kind: 'waiting' });
    file.isGone = false;
    await store.meet();
    await vi.runAllTimersAsync();
    expect(file.text).toContain('1.3 m');
  });

  it('finds edits again that were made while the server was gone and the page was closed', async () => {
    const { file, store, open } = setUp();
    file.isGone = true;
    setL(store, '1.3 m');
    file.isGone = false;
    expect(open().getState().history.present).toContain('1.3 m');
  });

  it('that came with the program is never written, and keeps its changes in the browser', async () => {
    const { file, store, open } = setUp({ mine: false });
    setL(store, '1.3 m');
    await vi.runAllTimersAsync();
    expect(file.text).toContain('1.2 m');
    expect(store.getState().saving).toEqual({ kind: 'kept here' });
    expect(open().getState().history.present).toContain('1.3 m');
    store.startOver();
    expect(store.getState().saving).toEqual({ kind: 'saved' });
    store.undo();
    expect(store.getState().history.present).toContain('1.3 m');
  });

  it('undoes what was taken in from outside as any other deed', async () => {
    const { file, store, digestOf } = setUp();
    file.text = text('1.5 m');
    await store.hear({ kind: 'changed', lab: 'rod', path: 'lab.yaml', digest: digestOf(file.text) });
    expect(store.getState().history.present).toContain('1.5 m');
    store.undo();
    await vi.runAllTimersAsync();
    expect(file.text).toContain('1.2 m');
  });
});
