/** A file of the lab as the worker finds it: fetched from the server, or sent along. */
export interface SourceFile {
  readonly path: string;
  /** Names its content: a file of the same digest is not fetched twice. */
  readonly digest: string;
  readonly from: { readonly address: string } | { readonly bytes: Uint8Array<ArrayBuffer> };
}

/** Everything that makes a lab, as data that can be sent to a worker. */
export interface LabSource {
  readonly text: string;
  readonly files: readonly SourceFile[];
  /** Base quantities that are in the hand, with the value they have there: `['I', '7.5e-7 kg m^2']`. */
  readonly settings: readonly (readonly [name: string, written: string])[];
  /** Effects that are switched off to see what happens. */
  readonly without: readonly string[];
}
