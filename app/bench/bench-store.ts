import { editLabText, type LabEdit, mergeLabTexts, renameSymbol } from '../../src/edit/index.ts';
import type { Outcome, Problem } from '../../src/problem/index.ts';
import type { Answer } from '../link/answer.ts';
import type { OutsideEvent } from '../link/events.ts';
import type { HeldFile, LabHead } from '../link/forms.ts';
import type { BenchState, LiveSetting } from './bench-state.ts';
import type { DraftKeeper } from './draft.ts';
import { beginHistory, endGesture, type History, type Renamed, record, redo, undo } from './history.ts';
import { LAB_FILE } from './lab-file.ts';
import { readText } from './reading.ts';

/** What the store needs of the world; a test gives its own. */
export interface BenchWorld {
  fetchHead(): Promise<Answer<LabHead>>;
  fetchFile(): Promise<Answer<HeldFile>>;
  writeFile(text: string, known: string): Promise<Answer<{ readonly digest: string }>>;
  /** Brings what was changed from `base` to `text` into the lab file of a fresh copy; null where it is done. */
  writeCopy(id: string, base: string, text: string): Promise<string | null>;
  /** Gives a symbol another name in the author's texts; what cannot be written is told when documents are made. */
  renameInTexts(renamed: Renamed): Promise<void>;
  readonly drafts: DraftKeeper;
  /** Calls back after so many milliseconds; returns what calls it off. */
  later(milliseconds: number, call: () => void): () => void;
}

export interface EditOptions {
  /** What is done, as a person would say it; shown with undo. */
  readonly label: string;
  /** Edits in a row under one name are undone together. */
  readonly gesture?: string;
}

/** Edits in quick succession are written together; a person does not notice so short a wait. */
const SAVE_AFTER = 400;

/** How soon a server that was gone is asked again. */
const RETRY_AFTER = 2000;

/**
 * One lab on the bench: its text with all deeds, read and checked after each, kept in step with the file.
 *
 * The text of the lab file is the document; screens edit it by records and never hold a second truth.
 */
export class BenchStore {
  #state: BenchState;
  #base: HeldFile;
  #callOff: (() => void) | null = null;
  #isWriting = false;
  readonly #world: BenchWorld;
  readonly #listeners = new Set<() => void>();

  constructor(head: LabHead, file: HeldFile, world: BenchWorld) {
    this.#world = world;
    this.#base = file;
    const draft = world.drafts.read();
    const merged = draft === null ? null : mergeLabTexts(draft.base, draft.text, file.text);
    const hasClash = merged !== null && merged.clashes.length > 0;
    // Until a person has chosen, the page has its own text, on the file that it was made on.
    if (draft !== null && hasClash) this.#base = { text: draft.base, digest: '' };
    const text = draft !== null && hasClash ? draft.text : (merged?.text ?? file.text);
    const opened = beginHistory(file.text);
    const history =
      text === file.text ? opened : endGesture(record(opened, text, 'changes kept in this browser'));
    const reading = readText(history.present);
    this.#state = {
      id: head.id,
      folder: head.folder,
      mine: head.mine,
      files: head.files,
      history,
      reading,
      lab: reading.lab,
      labText: history.present,
      live: null,
      without: new Set(),
      saving: { kind: 'saved' },
      clash: hasClash
        ? { theirs: file.text, digest: file.digest, merged: merged.text, clashes: merged.clashes }
        : null,
    };
    if (history.present !== file.text) this.#keep();
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly getState = (): BenchState => this.#state;

  /** Does the edits; a problem of the editing itself is told and nothing is changed. */
  edit(edits: readonly LabEdit[], options: EditOptions): readonly Problem[] {
    const edited = this.tryEdit(edits);
    if (!edited.ok) return edited.problems;
    this.setText(edited.value, options);
    return [];
  }

  /** The text as it would be after the edits. */
  tryEdit(edits: readonly LabEdit[]): Outcome<string> {
    return editLabText(this.#state.history.present, edits);
  }

  /** Replaces the whole text, as the text editor does. */
  setText(text: string, { label, gesture }: EditOptions): void {
    this.#move(record(this.#state.history, text, label, gesture ?? null));
  }

  /** Gives a symbol another name everywhere: in the lab, and in the texts that name it. */
  renameSymbol(from: string, to: string): readonly Problem[] {
    const text = renameSymbol(this.#state.history.present, from, to);
    if (!text.ok) return text.problems;
    this.#move(record(this.#state.history, text.value, `${from} is called ${to}`, null, { from, to }));
    void this.#world.renameInTexts({ from, to });
    return [];
  }

  undo(): void {
    const renamed = this.#state.history.past.at(-1)?.renamed;
    this.#move(undo(this.#state.history));
    if (renamed !== undefined) void this.#world.renameInTexts({ from: renamed.to, to: renamed.from });
  }

  redo(): void {
    const renamed = this.#state.history.future[0]?.renamed;
    this.#move(redo(this.#state.history));
    if (renamed !== undefined) void this.#world.renameInTexts(renamed);
  }

  /** What follows is undone by itself. */
  endGesture(): void {
    this.#change({ history: endGesture(this.#state.history) });
  }

  /** A quantity is in the hand, or none is any more. */
  hold(live: LiveSetting | null): void {
    const before = this.#state.live;
    if (before?.name === live?.name && before?.written === live?.written) return;
    this.#change({ live });
  }

  /** Switches an effect off or on to see what happens; the file keeps it. */
  look(without: ReadonlySet<string>): void {
    this.#change({ without });
  }

  /** Gives up all changes to a shipped lab; they can be had again by undo. */
  startOver(): void {
    this.#move(record(this.#state.history, this.#base.text, 'the lab as it came'));
  }

  /** Writes the present text into a fresh copy of the lab, and forgets the draft; a sentence says why it failed. */
  async copyInto(id: string): Promise<string | null> {
    const failed = await this.#world.writeCopy(id, this.#base.text, this.#state.history.present);
    if (failed === null) this.#world.drafts.forget();
    return failed;
  }

  /** Ends a clash with the text that a person chose. */
  settle(text: string): void {
    const { clash, history } = this.#state;
    if (clash === null) return;
    this.#base = { text: clash.theirs, digest: clash.digest };
    this.#change({ clash: null });
    this.#move(record(history, text, 'changes from both sides brought together'), true);
  }

  /** Something happened to a file of the lab, by another hand or by our own. */
  async hear(event: OutsideEvent): Promise<void> {
    if (event.kind === 'shelf' || event.lab !== this.#state.id) return;
    if (event.path !== LAB_FILE) await this.refreshFiles();
    else if (event.kind !== 'removed' && event.digest !== this.#base.digest && !this.#isWriting)
      await this.#takeIn();
  }

  /** The server answers again: what waited is written, and what happened meanwhile is taken in. */
  async meet(): Promise<void> {
    await this.refreshFiles();
    if (!this.#isWriting) await this.#takeIn();
    if (this.#state.mine) await this.#save();
  }

  async refreshFiles(): Promise<void> {
    const head = await this.#world.fetchHead();
    if (head.kind === 'ok') this.#change({ files: head.value.files });
  }

  #change(part: Partial<BenchState>): void {
    this.#state = { ...this.#state, ...part };
    for (const listener of this.#listeners) listener();
  }

  #move(history: History, isForced = false): void {
    if (history === this.#state.history && !isForced) return;
    if (history.present === this.#state.history.present) {
      this.#change({ history });
    } else {
      const reading = readText(history.present);
      const part: Partial<BenchState> = { history, reading, live: null };
      this.#change(reading.lab === null ? part : { ...part, lab: reading.lab, labText: history.present });
    }
    const { clash } = this.#state;
    if (clash !== null) this.#bringIn({ text: clash.theirs, digest: clash.digest });
    this.#keep();
  }

  /** Sees to it that the present text is kept: in the browser at once, in the file soon. */
  #keep(): void {
    const { present } = this.#state.history;
    if (present === this.#base.text) {
      this.#world.drafts.forget();
      this.#change({ saving: { kind: 'saved' } });
      return;
    }
    this.#world.drafts.write({ base: this.#base.text, text: present });
    if (!this.#state.mine) {
      this.#change({ saving: { kind: 'kept here' } });
      return;
    }
    this.#saveAfter(SAVE_AFTER);
  }

  #saveAfter(milliseconds: number): void {
    this.#callOff?.();
    this.#callOff = this.#world.later(milliseconds, () => void this.#save());
  }

  async #save(): Promise<void> {
    this.#callOff?.();
    const { history, clash, mine } = this.#state;
    const { present } = history;
    if (!mine || clash !== null || this.#isWriting || present === this.#base.text) return;
    this.#isWriting = true;
    this.#change({ saving: { kind: 'saving' } });
    const answer = await this.#world.writeFile(present, this.#base.digest);
    this.#isWriting = false;
    switch (answer.kind) {
      case 'ok':
        this.#base = { text: present, digest: answer.value.digest };
        this.#keep();
        break;
      case 'changed':
        await this.#takeIn();
        break;
      case 'unreachable':
        this.#change({ saving: { kind: 'waiting' } });
        this.#saveAfter(RETRY_AFTER);
        break;
      case 'refused':
        this.#change({ saving: { kind: 'refused', problems: answer.problems } });
    }
  }

  /** Takes in what another hand did to the file. */
  async #takeIn(): Promise<void> {
    const answer = await this.#world.fetchFile();
    if (answer.kind !== 'ok' || answer.value.digest === this.#base.digest) return;
    this.#bringIn(answer.value);
  }

  /** Joins what another hand wrote with the present text; what both changed waits for a person. */
  #bringIn(theirs: HeldFile): void {
    const { history } = this.#state;
    const { text, clashes } = mergeLabTexts(this.#base.text, history.present, theirs.text);
    if (clashes.length > 0) {
      this.#change({ clash: { theirs: theirs.text, digest: theirs.digest, merged: text, clashes } });
      return;
    }
    this.#base = theirs;
    this.#change({ clash: null });
    this.#move(record(history, text, 'changes made outside this page'), true);
  }
}
