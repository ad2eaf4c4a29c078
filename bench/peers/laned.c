/*
 * The peer in C by hand: four draws side by side in AVX2 vectors, with fused multiplication, every row of the table
 * written out with its constants, sine and tanh by the engine's own polynomials, the motion inside a step only where
 * it is looked at. The same order-8 pair, step control and first step as its straightforward sister, and the same way
 * of being asked; see there.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define N 2
#define MOST 512
#define LANES 4

typedef double v4 __attribute__((vector_size(32)));
typedef long long m4 __attribute__((vector_size(32)));

#include "rows.h"

#define INLINE static inline __attribute__((always_inline))

INLINE v4 all(double x) { return (v4){x, x, x, x}; }
INLINE v4 choose(m4 mask, v4 a, v4 b) { return (v4)((mask & (m4)a) | (~mask & (m4)b)); }
INLINE v4 absolute(v4 x) { return (v4)((m4)x & (m4){0x7fffffffffffffff, 0x7fffffffffffffff, 0x7fffffffffffffff, 0x7fffffffffffffff}); }
INLINE v4 larger(v4 a, v4 b) { return choose(a > b, a, b); }
INLINE v4 smaller(v4 a, v4 b) { return choose(a < b, a, b); }
INLINE int any(m4 mask) { return (mask[0] | mask[1] | mask[2] | mask[3]) != 0; }
INLINE v4 root(v4 x) {
  v4 r;
  for (int l = 0; l < LANES; l++) r[l] = sqrt(x[l]);
  return r;
}

INLINE v4 polynomial(v4 x, const double *c, int count) {
  v4 terms[16];
  for (int i = 0; i < count; i++) terms[i] = all(c[i]);
  while (count > 1) {
    int next = 0;
    for (int i = 0; i < count; i += 2) terms[next++] = i + 1 < count ? terms[i] + terms[i + 1] * x : terms[i];
    count = next;
    x = x * x;
  }
  return terms[0];
}

INLINE v4 sine4(v4 x) {
  const double shift = 6755399441055744.0;
  v4 sum = x * 0.3183098861837907 + shift, n = sum - shift;
  v4 r = x - n * 3.141592653589793;
  r = r - n * 1.2246467991473532e-16;
  v4 z = r * r;
  v4 value = r + r * z * polynomial(z, sine_terms, 8);
  return (v4)((m4)value ^ ((m4)sum << 63));
}

INLINE v4 tanh4(v4 x) {
  const double shift = 6755399441055744.0;
  v4 size = smaller(absolute(x), all(22)), y = size + size;
  v4 sum = y * 1.4426950408889634 + shift, n = sum - shift;
  v4 r = y - n * 0.6931471805599453;
  r = r - n * 2.3190468138462996e-17;
  v4 power = (v4)(((m4)sum + 1023) << 52);
  v4 e = (power - 1) + power * (r + r * r * polynomial(r, exponential_terms, 11));
  v4 value = e / (e + 2);
  return (v4)((m4)value | ((m4)x & (m4)all(-0.0)));
}

/* What a draw's rates need of its parameters, worked out once. */
typedef struct { v4 force, drag, perSpeed, friction; } factors;

INLINE factors prepare(int is_chain, const v4 *p) {
  factors f = {all(0), all(0), all(0), all(0)};
  if (is_chain) {
    v4 inverse = 1 / (p[1] * p[0] + p[3] / (p[2] * p[2]));
    f.force = 2 * p[1] * p[5] * inverse;
    f.drag = p[7] * inverse;
    f.friction = p[4] / p[2] * inverse;
    f.perSpeed = 1 / (0.01 * root(p[5] * p[0]));
  } else {
    f.force = -p[1] / p[0];
    f.drag = p[2];
  }
  return f;
}

INLINE void rates(int is_chain, const factors *f, const v4 *y, v4 *out) {
  out[0] = y[1];
  if (is_chain) out[1] = f->force * y[0] - f->friction * tanh4(y[1] * f->perSpeed) - f->drag * y[1] * y[1];
  else out[1] = f->force * sine4(y[0]) - f->drag * y[1];
}

#define STAGE(row)                                                                         \
  {                                                                                        \
    v4 to[N];                                                                              \
    for (int i = 0; i < N; i++) to[i] = y[i] + h * ROW_A##row(k, i);                       \
    rates(is_chain, f, to, k[row]);                                                        \
  }

INLINE v4 attempt(int is_chain, const factors *f, const v4 *y, v4 h, v4 k[17][N], v4 *end, double rtol, double atol) {
  STAGE(2) STAGE(3) STAGE(4) STAGE(5) STAGE(6) STAGE(7) STAGE(8) STAGE(9) STAGE(10) STAGE(11) STAGE(12)
  for (int i = 0; i < N; i++) end[i] = y[i] + h * ROW_B(k, i);
  rates(is_chain, f, end, k[13]);
  v4 fifth = all(0), third = all(0);
  for (int i = 0; i < N; i++) {
    v4 share = 1 / (atol + rtol * larger(absolute(y[i]), absolute(end[i])));
    v4 by5 = ROW_E5(k, i) * share, by3 = ROW_E3(k, i) * share;
    fifth += by5 * by5;
    third += by3 * by3;
  }
  v4 error = absolute(h) * fifth / root((fifth + 0.01 * third) * N);
  return choose((fifth == 0) & (third == 0), all(0), error);
}

INLINE void write_piece(int is_chain, const factors *f, const v4 *y, v4 h, v4 k[17][N], const v4 *end, v4 piece[N][8]) {
  STAGE(14) STAGE(15) STAGE(16)
  for (int i = 0; i < N; i++) {
    v4 change = end[i] - y[i];
    piece[i][0] = y[i];
    piece[i][1] = change;
    piece[i][2] = h * k[1][i] - change;
    piece[i][3] = 2 * change - h * (k[13][i] + k[1][i]);
    piece[i][4] = h * ROW_D4(k, i);
    piece[i][5] = h * ROW_D5(k, i);
    piece[i][6] = h * ROW_D6(k, i);
    piece[i][7] = h * ROW_D7(k, i);
  }
}

INLINE v4 inside(const v4 *q, v4 theta) {
  v4 rest = 1 - theta;
  return q[0] + theta * (q[1] + rest * (q[2] + theta * (q[3] + rest * (q[4] + theta * (q[5] + rest * (q[6] + theta * q[7]))))));
}

/* Illinois method on the lanes that want it: where the motion inside the step passes a level. */
INLINE v4 locate(const v4 *q, v4 level, m4 wanted) {
  v4 low = all(0), high = all(1), at_low = q[0] - level, at_high = inside(q, high) - level, x = high;
  for (int round = 0; round < 60 && any(wanted); round++) {
    v4 next = high - at_high * (high - low) / (at_high - at_low);
    v4 value = inside(q, next) - level;
    m4 found = (value == 0) | (absolute(next - high) < 1e-14);
    m4 flips = value * at_high < 0;
    x = choose(wanted, next, x);
    v4 new_low = choose(flips, high, low), new_at_low = choose(flips, at_high, 0.5 * at_low);
    low = choose(wanted, new_low, low);
    at_low = choose(wanted, new_at_low, at_low);
    high = choose(wanted, next, high);
    at_high = choose(wanted, value, at_high);
    wanted &= ~found;
  }
  return x;
}

INLINE v4 first_step(int is_chain, const factors *f, const v4 *y, const v4 *k1, double rtol, double atol, double span) {
  v4 scale = all(INFINITY), guess = all(1e-3 * span), to[N], k[N];
  for (int i = 0; i < N; i++) {
    m4 counts = (y[i] != 0) & (k1[i] != 0);
    scale = choose(counts, smaller(scale, absolute(y[i] / k1[i])), scale);
  }
  v4 brief = 1e-3 * choose(scale < INFINITY, smaller(scale, all(span)), guess);
  for (int i = 0; i < N; i++) to[i] = y[i] + brief * k1[i];
  rates(is_chain, f, to, k);
  for (int i = 0; i < N; i++) {
    v4 change = (k[i] - k1[i]) / brief;
    m4 counts = (y[i] != 0) & (change != 0);
    scale = choose(counts, smaller(scale, root(absolute(y[i] / change))), scale);
  }
  scale = choose(scale < INFINITY, scale, guess);
  v4 first = all(0), second = all(0);
  for (int i = 0; i < N; i++) {
    v4 rate = k1[i] * scale, change = (k[i] - k1[i]) / brief * scale * scale;
    v4 allowed = atol + rtol * (absolute(y[i]) + absolute(rate));
    first += rate / allowed * (rate / allowed);
    second += change / allowed * (change / allowed);
  }
  v4 size = root(larger(first, second) / N);
  v4 step = choose(size > 0, scale * root(root(root(0.01 / size))), scale);
  return smaller(step, smaller(scale, all(span)));
}

typedef struct { double end; int count; double values[MOST]; } result;

INLINE void follow(int is_chain, const v4 *p, double rtol, double atol, double interval, double lasts, result **out) {
  factors f = prepare(is_chain, p);
  v4 y[N] = {is_chain ? p[6] : p[3], all(0)}, k[17][N], end[N], piece[N][8];
  v4 t = all(0), end_s = all(is_chain ? INFINITY : lasts), stop = 0.45 * p[0], count = all(0);
  rates(is_chain, &f, y, k[1]);
  v4 next = first_step(is_chain, &f, y, k[1], rtol, atol, is_chain ? 1.0 : lasts);
  m4 active = {-1, -1, -1, -1};
  for (int step = 0; step < 20000 && any(active); step++) {
    m4 reaches = t + 1.001 * next >= end_s;
    v4 h = choose(reaches, end_s - t, next);
    v4 error = attempt(is_chain, &f, y, h, k, end, rtol, atol);
    m4 taken = (error <= 1) & active;
    v4 growth = 0.9 / root(root(root(error)));
    v4 factor = larger(all(0.2), smaller(growth, choose(error <= 1, all(10), all(1))));
    next = h * choose(error == error, factor, all(0.2));
    m4 stops = {0, 0, 0, 0};
    v4 limit = all(1);
    if (is_chain) {
      if (any(taken)) {
        write_piece(is_chain, &f, y, h, k, end, piece);
        stops = (end[0] > stop) & taken;
        if (any(stops)) limit = choose(stops, locate(piece[0], stop, stops), limit);
        for (;;) {
          v4 moment = count * interval;
          m4 falls = (moment <= t + limit * h) & taken & (count < MOST);
          if (!any(falls)) break;
          v4 value = inside(piece[1], (moment - t) / h);
          for (int l = 0; l < LANES; l++) out[l]->values[(int)count[l]] = value[l];
          count += choose(falls, all(1), all(0));
        }
      }
    } else {
      m4 crosses = ((y[0] < 0) != (end[0] < 0)) & taken & (count < MOST);
      if (any(crosses)) {
        write_piece(is_chain, &f, y, h, k, end, piece);
        v4 value = t + h * locate(piece[0], all(0), crosses);
        for (int l = 0; l < LANES; l++) out[l]->values[(int)count[l]] = value[l];
        count += choose(crosses, all(1), all(0));
      }
    }
    m4 ends = (stops | reaches) & taken;
    if (any(ends)) {
      v4 at = t + limit * h;
      for (int l = 0; l < LANES; l++)
        if (ends[l]) {
          out[l]->end = at[l];
          out[l]->count = (int)count[l];
        }
      active &= ~ends;
    }
    t = choose(taken, t + h, t);
    for (int i = 0; i < N; i++) {
      y[i] = choose(taken, end[i], y[i]);
      k[1][i] = choose(taken, k[13][i], k[1][i]);
    }
  }
}

static __attribute__((noinline)) void follow_chain(const v4 *p, double rtol, double atol, double interval, double lasts, result **out) {
  follow(1, p, rtol, atol, interval, lasts, out);
}

static __attribute__((noinline)) void follow_pendulum(const v4 *p, double rtol, double atol, double interval, double lasts, result **out) {
  follow(0, p, rtol, atol, interval, lasts, out);
}

int main(int argc, char **argv) {
  if (argc < 9) return 2;
  int is_chain = strcmp(argv[1], "chain") == 0, count = atoi(argv[3]), columns = is_chain ? 8 : 4;
  double rtol = atof(argv[4]), atol = atof(argv[5]), interval = atof(argv[7]), lasts = atof(argv[8]);
  double *rows = malloc(sizeof(double) * count * columns);
  /* One more, for what lanes write whose turn it is not. */
  result *results = calloc(count + LANES, sizeof(result));
  FILE *in = fopen(argv[2], "rb");
  if (in == NULL || fread(rows, sizeof(double), count * columns, in) != (size_t)(count * columns)) return 1;
  fclose(in);
  char line[64];
  while (fgets(line, sizeof line, stdin) != NULL) {
    struct timespec begin, end;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &begin);
    for (int d = 0; d < count; d += LANES) {
      v4 p[8];
      result *out[LANES];
      for (int l = 0; l < LANES; l++) {
        int draw = d + l < count ? d + l : d;
        for (int c = 0; c < columns; c++) p[c][l] = rows[draw * columns + c];
        out[l] = results + (d + l < count ? draw : count + l);
      }
      if (is_chain) follow_chain(p, rtol, atol, interval, lasts, out);
      else follow_pendulum(p, rtol, atol, interval, lasts, out);
    }
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &end);
    FILE *out = fopen(argv[6], "wb");
    for (int d = 0; d < count; d++) {
      double found[3] = {results[d].end, results[d].count, results[d].count > 0 ? results[d].values[results[d].count - 1] : NAN};
      fwrite(found, sizeof found, 1, out);
    }
    fclose(out);
    printf("%.9f\n", (end.tv_sec - begin.tv_sec) + 1e-9 * (end.tv_nsec - begin.tv_nsec));
    fflush(stdout);
  }
  return 0;
}
