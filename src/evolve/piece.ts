/**
 * The states at a share θ of a step, 0 ≤ θ ≤ 1.
 *
 * A piece is a polynomial a state, c0 + θ(c1 + (1−θ)(c2 + θ(c3 + (1−θ)(c4 + …)))): the form in which the continuous
 * extension of the order-8 pair is published, general enough for every method here.
 *
 * @param terms numbers a state; n × `terms` stand in `pieces` from `offset` on, state by state
 * @param out n states, from `outAt` on
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.6
 */
export function evaluatePiece(
  pieces: Float64Array,
  offset: number,
  terms: number,
  n: number,
  theta: number,
  out: Float64Array,
  outAt: number,
): void {
  const rest = 1 - theta;
  if (terms === 8) {
    for (let i = 0, c = offset; i < n; i++, c += 8) {
      const inner = pieces[c + 4] + theta * (pieces[c + 5] + rest * (pieces[c + 6] + theta * pieces[c + 7]));
      const outer = pieces[c + 2] + theta * (pieces[c + 3] + rest * inner);
      out[outAt + i] = pieces[c] + theta * (pieces[c + 1] + rest * outer);
    }
    return;
  }
  for (let i = 0; i < n; i++) {
    const first = offset + i * terms;
    let value = pieces[first + terms - 1];
    for (let k = terms - 2; k >= 0; k--) value = pieces[first + k] + (k % 2 === 0 ? theta : rest) * value;
    out[outAt + i] = value;
  }
}
