/** The local variables of a function, used again once their value is no longer wanted. */
export class LocalPool {
  /** Type of each local, parameters first. */
  readonly types: number[];
  private readonly free = new Map<number, number[]>();

  constructor(parameters: readonly number[]) {
    this.types = [...parameters];
  }

  take(type: number): number {
    const known = this.free.get(type)?.pop();
    return known ?? this.types.push(type) - 1;
  }

  giveBack(local: number): void {
    const type = this.types[local];
    const known = this.free.get(type);
    if (known === undefined) this.free.set(type, [local]);
    else known.push(local);
  }
}
