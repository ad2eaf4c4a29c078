/*
 * The peer in C: the same order-8 pair, step control, first step and motion inside a step as the engine, written
 * straightforwardly: rates behind a function pointer, loops over arrays, the machine's mathematical library.
 *
 * Reads a file of rows of parameters; then, for each line on its input, follows all draws and answers with the
 * seconds of processor time that took. Usage: trajectories MODEL ROWS.bin COUNT RTOL ATOL RESULTS.bin
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "order8.h"

#define N 2
#define MOST 512

typedef void (*rates_function)(double t, const double *y, const double *p, double *out);

static void chain_rates(double t, const double *y, const double *p, double *out) {
  double L = p[0], lambda = p[1], R = p[2], I = p[3], tau = p[4], g = p[5], c = p[7];
  (void)t;
  out[0] = y[1];
  out[1] = (2 * lambda * g * y[0] - tau / R * tanh(y[1] / (0.01 * sqrt(g * L))) - c * y[1] * y[1]) /
           (lambda * L + I / (R * R));
}

static void pendulum_rates(double t, const double *y, const double *p, double *out) {
  (void)t;
  out[0] = y[1];
  out[1] = -p[1] / p[0] * sin(y[0]) - p[2] * y[1];
}

typedef struct {
  rates_function rates;
  const double *p;
  double t, h, y[N], k[17][N], end[N], piece[N][8];
} stepper;

static void stage(stepper *s, int row) {
  double y[N];
  for (int i = 0; i < N; i++) {
    double sum = 0;
    for (int j = 1; j < row; j++) sum += a[row][j] * s->k[j][i];
    y[i] = s->y[i] + s->h * sum;
  }
  s->rates(s->t + c[row] * s->h, y, s->p, s->k[row]);
}

static double attempt(stepper *s, double rtol, double atol) {
  for (int row = 2; row <= 12; row++) stage(s, row);
  for (int i = 0; i < N; i++) {
    double sum = 0;
    for (int j = 1; j <= 12; j++) sum += b[j] * s->k[j][i];
    s->end[i] = s->y[i] + s->h * sum;
  }
  s->rates(s->t + s->h, s->end, s->p, s->k[13]);
  double fifth = 0, third = 0;
  for (int i = 0; i < N; i++) {
    double scale = atol + rtol * fmax(fabs(s->y[i]), fabs(s->end[i])), by5 = 0, by3 = 0;
    for (int j = 1; j <= 12; j++) {
      by5 += e5[j] * s->k[j][i];
      by3 += e3[j] * s->k[j][i];
    }
    fifth += by5 / scale * (by5 / scale);
    third += by3 / scale * (by3 / scale);
  }
  if (fifth == 0 && third == 0) return 0;
  return fabs(s->h) * fifth / sqrt((fifth + 0.01 * third) * N);
}

static void write_piece(stepper *s) {
  for (int row = 14; row <= 16; row++) stage(s, row);
  for (int i = 0; i < N; i++) {
    double change = s->end[i] - s->y[i];
    s->piece[i][0] = s->y[i];
    s->piece[i][1] = change;
    s->piece[i][2] = s->h * s->k[1][i] - change;
    s->piece[i][3] = 2 * change - s->h * (s->k[13][i] + s->k[1][i]);
    for (int d = 0; d < 4; d++) {
      double sum = 0;
      for (int j = 1; j <= 16; j++) sum += dense[d][j] * s->k[j][i];
      s->piece[i][4 + d] = s->h * sum;
    }
  }
}

static double inside(const stepper *s, int i, double theta) {
  const double *q = s->piece[i];
  double rest = 1 - theta;
  return q[0] + theta * (q[1] + rest * (q[2] + theta * (q[3] + rest * (q[4] + theta * (q[5] + rest * (q[6] + theta * q[7]))))));
}

/* Illinois method on the motion inside the step: where state i passes a level. */
static double locate(const stepper *s, int i, double level) {
  double a0 = 0, b0 = 1, fa = inside(s, i, 0) - level, fb = inside(s, i, 1) - level, x = 1;
  for (int round = 0; round < 60; round++) {
    x = b0 - fb * (b0 - a0) / (fb - fa);
    double fx = inside(s, i, x) - level;
    if (fx == 0 || fabs(b0 - a0) < 1e-14) break;
    if (fx * fb < 0) { a0 = b0; fa = fb; } else fa *= 0.5;
    if (fabs(x - b0) < 1e-14) break;
    b0 = x;
    fb = fx;
  }
  return x;
}

static double first_step(stepper *s, double rtol, double atol, double span) {
  double scale = INFINITY, guess = 1e-3 * span, y[N], k[N];
  for (int i = 0; i < N; i++)
    if (s->y[i] != 0 && s->k[1][i] != 0) scale = fmin(scale, fabs(s->y[i] / s->k[1][i]));
  double brief = 1e-3 * (scale < INFINITY ? fmin(scale, span) : guess);
  for (int i = 0; i < N; i++) y[i] = s->y[i] + brief * s->k[1][i];
  s->rates(brief, y, s->p, k);
  for (int i = 0; i < N; i++) {
    double change = (k[i] - s->k[1][i]) / brief;
    if (s->y[i] != 0 && change != 0) scale = fmin(scale, sqrt(fabs(s->y[i] / change)));
  }
  if (!(scale < INFINITY)) scale = guess;
  double first = 0, second = 0;
  for (int i = 0; i < N; i++) {
    double rate = s->k[1][i] * scale, change = (k[i] - s->k[1][i]) / brief * scale * scale;
    double allowed = atol + rtol * (fabs(s->y[i]) + fabs(rate));
    first += rate / allowed * (rate / allowed);
    second += change / allowed * (change / allowed);
  }
  double size = sqrt(fmax(first, second) / N);
  double step = size > 0 ? scale * pow(0.01 / size, 0.125) : scale;
  return fmin(step, fmin(scale, span));
}

typedef struct { double end; int count; double values[MOST]; } result;

static void follow(int is_chain, const double *p, double rtol, double atol, double interval, double lasts, result *out) {
  stepper s = {.rates = is_chain ? chain_rates : pendulum_rates, .p = p};
  s.y[0] = is_chain ? p[6] : p[3];
  double end_s = is_chain ? INFINITY : lasts, stop = is_chain ? 0.45 * p[0] : INFINITY;
  s.rates(0, s.y, p, s.k[1]);
  double h = first_step(&s, rtol, atol, is_chain ? 1.0 : lasts);
  out->count = 0;
  for (int step = 0; step < 20000; step++) {
    int reaches = s.t + 1.001 * h >= end_s;
    s.h = reaches ? end_s - s.t : h;
    double error = attempt(&s, rtol, atol);
    if (!(error <= 1)) {
      h = s.h * (error > 1 ? fmax(0.2, 0.9 * pow(error, -0.125)) : 0.2);
      continue;
    }
    write_piece(&s);
    double limit = 1;
    int stops = is_chain && s.end[0] > stop;
    if (stops) limit = locate(&s, 0, stop);
    if (is_chain) {
      while (out->count < MOST && out->count * interval <= s.t + limit * s.h) {
        out->values[out->count] = inside(&s, 1, (out->count * interval - s.t) / s.h);
        out->count++;
      }
    } else if ((s.y[0] < 0) != (s.end[0] < 0) && out->count < MOST) {
      out->values[out->count++] = s.t + s.h * locate(&s, 0, 0);
    }
    if (stops || reaches) {
      out->end = s.t + limit * s.h;
      return;
    }
    h = s.h * (error == 0 ? 10 : fmin(10, fmax(0.2, 0.9 * pow(error, -0.125))));
    s.t += s.h;
    memcpy(s.y, s.end, sizeof s.y);
    memcpy(s.k[1], s.k[13], sizeof s.k[1]);
  }
}

int main(int argc, char **argv) {
  if (argc < 9) return 2;
  int is_chain = strcmp(argv[1], "chain") == 0, count = atoi(argv[3]), columns = is_chain ? 8 : 4;
  double rtol = atof(argv[4]), atol = atof(argv[5]), interval = atof(argv[7]), lasts = atof(argv[8]);
  double *rows = malloc(sizeof(double) * count * columns);
  result *results = calloc(count, sizeof(result));
  FILE *in = fopen(argv[2], "rb");
  if (in == NULL || fread(rows, sizeof(double), count * columns, in) != (size_t)(count * columns)) return 1;
  fclose(in);
  char line[64];
  while (fgets(line, sizeof line, stdin) != NULL) {
    struct timespec begin, end;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &begin);
    for (int d = 0; d < count; d++) follow(is_chain, rows + d * columns, rtol, atol, interval, lasts, results + d);
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
