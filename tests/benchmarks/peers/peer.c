/*
 * The workloads in straightforward C: every unit of every draw, lives by logarithm and power, one draw after another.
 * Cover is decided at detection (W1). It leaves out what the workloads leave out too: call-out, exits of providers, refused
 * claims, days of claims; and, beyond them, months of their true length, reserves, parameter sets, every analysis and the
 * report. Overlapping outages count in full.
 *
 *   cc -O3 -march=native -o peer peer.c -lm
 *   peer WORLD DRAWS SEED [SITES]     WORLD as `peers.ts` writes it; with SITES the draws are those of a fleet of one option
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>

#define MOST_MODES 4

typedef struct {
  int count, modes;
  double parts, labour, warranty, share, detect, detectSigma, respond, respondSigma;
  double shape[MOST_MODES], life[MOST_MODES];
} Population;

static double horizon, logDiscount, logParts, logLabour;
static int months;
static double *worth;

static uint64_t state[2];

/* xoroshiro128+, Blackman & Vigna (2018) */
static double uniform(void) {
  uint64_t a = state[0], b = state[1], sum = a + b;
  b ^= a;
  state[0] = ((a << 24) | (a >> 40)) ^ b ^ (b << 16);
  state[1] = (b << 37) | (b >> 27);
  return ((sum >> 11) + 0.5) / 9007199254740992.0;
}

static double spare;
static int hasSpare;

/* polar form of Box and Muller */
static double normal(void) {
  if (hasSpare) {
    hasSpare = 0;
    return spare;
  }
  double x, y, r;
  do {
    x = 2 * uniform() - 1;
    y = 2 * uniform() - 1;
    r = x * x + y * y;
  } while (r >= 1);
  double factor = sqrt(-2 * log(r) / r);
  spare = y * factor;
  hasSpare = 1;
  return x * factor;
}

static double life(const Population *p) {
  double soonest = INFINITY;
  for (int i = 0; i < p->modes; i++) {
    double at = p->life[i] * pow(-log(uniform()), 1 / p->shape[i]);
    if (at < soonest) soonest = at;
  }
  return soonest;
}

static double worthUntil(double at) {
  double place = at * 12;
  int month = (int)place;
  if (month >= months) return worth[months];
  return worth[month] + (place - month) * (worth[month + 1] - worth[month]);
}

/* one population in one draw: its cost, added to cash by year; counts failures */
static double play(const Population *p, double *cash, long *failures) {
  double total = 0;
  for (int unit = 0; unit < p->count; unit++) {
    double at = life(p);
    while (at < horizon) {
      ++*failures;
      double detected = at + p->detect / 365 * exp(p->detectSigma * normal());
      double back = detected + p->respond / 365 * exp(p->respondSigma * normal());
      total += p->share * (worthUntil(back < horizon ? back : horizon) - worthUntil(at));
      if (back >= horizon) break;
      double bill = p->labour * exp(logLabour * back);
      if (detected >= p->warranty) bill += p->parts * exp(logParts * back);
      total += bill * exp(-logDiscount * back);
      cash[(int)back] += bill;
      at = back + life(p);
    }
  }
  return total;
}

/* the value at a rank, by partition */
static double select_(double *values, long n, long rank) {
  long low = 0, high = n - 1;
  while (low < high) {
    double pivot = values[low + (high - low) / 2];
    long i = low, j = high;
    while (i <= j) {
      while (values[i] < pivot) i++;
      while (values[j] > pivot) j--;
      if (i <= j) {
        double swap = values[i];
        values[i++] = values[j];
        values[j--] = swap;
      }
    }
    if (rank <= j) high = j;
    else if (rank >= i) low = i;
    else break;
  }
  return values[rank];
}

int main(int argc, char **argv) {
  if (argc < 4) return 2;
  FILE *file = fopen(argv[1], "r");
  long draws = atol(argv[2]);
  long sites = argc > 4 ? atol(argv[4]) : 1;
  uint64_t seed = strtoull(argv[3], NULL, 10) * 0x9e3779b97f4a7c15u + 1;
  state[0] = seed ^ 0xbf58476d1ce4e5b9u;
  state[1] = seed * 0x94d049bb133111ebu;
  int options;
  if (file == NULL || fscanf(file, "%lf %lf %lf %lf %d %d", &horizon, &logDiscount, &logParts, &logLabour, &months, &options) != 6) return 1;
  worth = malloc((months + 1) * sizeof *worth);
  for (int i = 0; i <= months; i++)
    if (fscanf(file, "%lf", &worth[i]) != 1) return 1;
  int years = (int)horizon;
  double *totals = malloc(draws * sizeof *totals), *column = malloc(draws * sizeof *column);
  double *cash = malloc(draws * years * sizeof *cash);
  if (totals == NULL || column == NULL || cash == NULL) return 1;
  printf("{\"options\":[");
  for (int option = 0; option < options; option++) {
    int populations;
    Population all[8];
    if (fscanf(file, "%d", &populations) != 1) return 1;
    for (int i = 0; i < populations; i++) {
      Population *p = &all[i];
      if (fscanf(file, "%d %lf %lf %lf %lf %lf %lf %lf %lf %d", &p->count, &p->parts, &p->labour, &p->warranty, &p->share, &p->detect, &p->detectSigma, &p->respond, &p->respondSigma, &p->modes) != 10) return 1;
      for (int k = 0; k < p->modes; k++)
        if (fscanf(file, "%lf %lf", &p->shape[k], &p->life[k]) != 2) return 1;
    }
    memset(cash, 0, draws * years * sizeof *cash);
    long failures = 0;
    double sum = 0, squares = 0;
    for (long draw = 0; draw < draws; draw++) {
      double total = 0;
      for (long site = 0; site < sites; site++)
        for (int i = 0; i < populations; i++) total += play(&all[i], cash + draw * years, &failures);
      totals[draw] = total;
      sum += total;
      squares += total * total;
    }
    double mean = sum / draws;
    printf("%s{\"failures\":%.17g,\"cost\":%.17g,\"error\":%.17g,\"percentiles\":[", option ? "," : "", (double)failures / draws / sites, mean / sites, sqrt((squares / draws - mean * mean) / draws) / sites);
    static const double ranks[] = {0.05, 0.1, 0.5, 0.9, 0.95}, ofCash[] = {0.5, 0.8, 0.9, 0.95};
    for (int i = 0; i < 5; i++) printf("%s%.17g", i ? "," : "", select_(totals, draws, (long)(ranks[i] * (draws - 1))));
    printf("],\"cash\":[");
    for (int year = 0; year < years; year++) {
      for (long draw = 0; draw < draws; draw++) {
        if (year > 0) cash[draw * years + year] += cash[draw * years + year - 1];
        column[draw] = cash[draw * years + year];
      }
      for (int i = 0; i < 4; i++) printf("%s%.17g", year + i ? "," : "", select_(column, draws, (long)(ofCash[i] * (draws - 1))));
    }
    printf("]}");
  }
  struct rusage used;
  getrusage(RUSAGE_SELF, &used);
  printf("],\"cpuSeconds\":%.6f,\"peakMb\":%.1f}\n", used.ru_utime.tv_sec + used.ru_stime.tv_sec + (used.ru_utime.tv_usec + used.ru_stime.tv_usec) / 1e6, used.ru_maxrss / 1024.0);
  return 0;
}
