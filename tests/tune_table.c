/* Two tables, printed, on visits of the second model: how often the cause put in is the first that
 * is named, beside how often anyone could name it (oracle.h), and how often the stated intervals
 * hold the truth.
 *
 *   tune_table [seeds=100] [what=causes|coverage|best|next] [scatter=0.5] [kit=0] [row=TEXT]
 *              [case=FILE] [meter=valve|piston|filled] [from=0]
 *
 * from: seeds before the first; the widths in lib/study were chosen on 0 and 40000, the odds of
 * causes on 20000 to 24000, 60000 and 64000, the share from which they are named on 64000 to 76000,
 * 2000 visits each. what: only that. kit: readings beside the usual ones, VISIT_AIRFLOW and
 * so on added (visits.h). row: only rows whose name holds TEXT. meter: only that. */
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"
#include "oracle.h"
#include "visits.h"

#define F(n) ((n) / CT_F_PER_K)

static const struct {
    const char *name;
    visit_kind kind;
} rows[] = {
    {"nothing wrong", {.fault = FAULT_NONE}},
    {"filter: airflow 0.9", {FAULT_FILTER, 0.9, 0, 0}},
    {"filter: airflow 0.85", {FAULT_FILTER, 0.85, 0, 0}},
    {"filter: airflow 0.8", {FAULT_FILTER, 0.8, 0, 0}},
    {"filter: airflow 0.75", {FAULT_FILTER, 0.75, 0, 0}},
    {"filter: airflow 0.7", {FAULT_FILTER, 0.7, 0, 0}},
    {"filter: airflow 0.6", {FAULT_FILTER, 0.6, 0, 0}},
    {"blower: airflow 0.9", {FAULT_BLOWER, 0.9, 0, 0}},
    {"blower: airflow 0.85", {FAULT_BLOWER, 0.85, 0, 0}},
    {"blower: airflow 0.8", {FAULT_BLOWER, 0.8, 0, 0}},
    {"blower: airflow 0.75", {FAULT_BLOWER, 0.75, 0, 0}},
    {"blower: airflow 0.7", {FAULT_BLOWER, 0.7, 0, 0}},
    {"blower: airflow 0.6", {FAULT_BLOWER, 0.6, 0, 0}},
    {"tap: one slower", {FAULT_TAP, -1, 0, 0}},
    {"tap: one faster", {FAULT_TAP, 1, 0, 0}},
    {"tap: two faster", {FAULT_TAP, 2, 0, 0}},
    {"coil 0.9", {FAULT_COIL, 0.9, 0, 0}},
    {"coil 0.85", {FAULT_COIL, 0.85, 0, 0}},
    {"coil 0.8", {FAULT_COIL, 0.8, 0, 0}},
    {"coil 0.75", {FAULT_COIL, 0.75, 0, 0}},
    {"coil 0.7", {FAULT_COIL, 0.7, 0, 0}},
    {"coil 0.6", {FAULT_COIL, 0.6, 0, 0}},
    {"coil 0.5", {FAULT_COIL, 0.5, 0, 0}},
    {"compressor 0.95", {FAULT_COMPRESSOR, 0.95, 0, 0}},
    {"compressor 0.9", {FAULT_COMPRESSOR, 0.9, 0, 0}},
    {"compressor 0.85", {FAULT_COMPRESSOR, 0.85, 0, 0}},
    {"compressor 0.8", {FAULT_COMPRESSOR, 0.8, 0, 0}},
    {"compressor 0.75", {FAULT_COMPRESSOR, 0.75, 0, 0}},
    {"compressor 0.7", {FAULT_COMPRESSOR, 0.7, 0, 0}},
    {"compressor 0.6", {FAULT_COMPRESSOR, 0.6, 0, 0}},
    {"condenser 0.9", {FAULT_CONDENSER, 0.9, 0, 0}},
    {"condenser 0.85", {FAULT_CONDENSER, 0.85, 0, 0}},
    {"condenser 0.8", {FAULT_CONDENSER, 0.8, 0, 0}},
    {"condenser 0.75", {FAULT_CONDENSER, 0.75, 0, 0}},
    {"condenser 0.7", {FAULT_CONDENSER, 0.7, 0, 0}},
    {"condenser 0.6", {FAULT_CONDENSER, 0.6, 0, 0}},
    {"charge -30 %", {FAULT_CHARGE, -0.3, 0, 0}},
    {"charge -20 %", {FAULT_CHARGE, -0.2, 0, 0}},
    {"charge -15 %", {FAULT_CHARGE, -0.15, 0, 0}},
    {"charge -10 %", {FAULT_CHARGE, -0.1, 0, 0}},
    {"charge +10 %", {FAULT_CHARGE, 0.1, 0, 0}},
    {"charge +15 %", {FAULT_CHARGE, 0.15, 0, 0}},
    {"charge +20 %", {FAULT_CHARGE, 0.2, 0, 0}},
    {"floods: superheat -8 F", {FAULT_FEED, F(-8), 0, 0}},
    {"floods: superheat -12 F", {FAULT_FEED, F(-12), 0, 0}},
    {"starves: superheat +8 F", {FAULT_FEED, F(8), 0, 0}},
    {"starves: superheat +12 F", {FAULT_FEED, F(12), 0, 0}},
    {"return dry bulb +6 F", {FAULT_READING, F(6), CT_RETURN_DRY_BULB, 0}},
    {"return dry bulb -6 F", {FAULT_READING, F(-6), CT_RETURN_DRY_BULB, 0}},
    {"return wet bulb +5 F", {FAULT_READING, F(5), CT_RETURN_WET_BULB, 0}},
    {"return wet bulb -5 F", {FAULT_READING, F(-5), CT_RETURN_WET_BULB, 0}},
    {"supply dry bulb +6 F", {FAULT_READING, F(6), CT_SUPPLY_DRY_BULB, 0}},
    {"supply dry bulb -6 F", {FAULT_READING, F(-6), CT_SUPPLY_DRY_BULB, 0}},
    {"supply wet bulb +5 F", {FAULT_READING, F(5), CT_SUPPLY_WET_BULB, 0}},
    {"supply wet bulb -5 F", {FAULT_READING, F(-5), CT_SUPPLY_WET_BULB, 0}},
    {"outdoor dry bulb +10 F", {FAULT_READING, F(10), CT_OUTDOOR_DRY_BULB, 0}},
    {"outdoor dry bulb -10 F", {FAULT_READING, F(-10), CT_OUTDOOR_DRY_BULB, 0}},
    {"suction gauge +8 psi", {FAULT_READING, 8 * CT_PA_PER_PSI, CT_SUCTION_PRESSURE, 0}},
    {"suction gauge -8 psi", {FAULT_READING, -8 * CT_PA_PER_PSI, CT_SUCTION_PRESSURE, 0}},
    {"suction clamp +10 F", {FAULT_READING, F(10), CT_SUCTION_TEMPERATURE, 0}},
    {"suction clamp -10 F", {FAULT_READING, F(-10), CT_SUCTION_TEMPERATURE, 0}},
    {"liquid gauge +25 psi", {FAULT_READING, 25 * CT_PA_PER_PSI, CT_LIQUID_PRESSURE, 0}},
    {"liquid gauge -25 psi", {FAULT_READING, -25 * CT_PA_PER_PSI, CT_LIQUID_PRESSURE, 0}},
    {"liquid clamp +8 F", {FAULT_READING, F(8), CT_LIQUID_TEMPERATURE, 0}},
    {"liquid clamp -8 F", {FAULT_READING, F(-8), CT_LIQUID_TEMPERATURE, 0}},
    {"static +0.3 inwc", {FAULT_READING, 0.3 * CT_PA_PER_INWC, CT_STATIC, 0}},
    {"outdoor watts +20 %", {FAULT_READING, 660, CT_OUTDOOR_POWER, 0}},
};

typedef struct {
    int seeds, from;
    double scatter;
    unsigned kit;
    const char *what, *row, *path, *meter;
} options;

/* Of the visits to one kind of fault, by what was told. */
typedef struct {
    int settled, first, family, two, alike, ranked, alarm, odd, impossible, failed;
    int cause[CT_CAUSE_COUNT + 1]; /* named first; the last: none */
} tally;

static void count(const visit *v, const visit_kind *k, tally *n)
{
    const ct_tune *t = &v->told;
    if (!v->settles) return;
    n->settled++;
    if (v->status != CT_OK) {
        n->failed++;
        return;
    }
    const int place = visit_named(v, k, 2, false), kin = visit_named(v, k, 1, true);
    n->impossible += !t->fitted;
    n->alarm += t->wrong;
    n->ranked += place == 0;
    n->first += t->wrong && place == 0;
    n->family += t->wrong && kin == 0;
    n->two += t->wrong && (place >= 0 || kin == 0);
    n->alike += t->wrong && (place == 0 || (t->alike && place >= 0));
    n->odd += t->fitted && !t->agree;
    n->cause[t->wrong && t->n_explanations > 0 ? t->explanation[0].cause : CT_CAUSE_COUNT]++;
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* ---- What could be named ------------------------------------------------------------ */

#define FALSE_ALARMS 0.05
enum { N_ROWS = sizeof rows / sizeof rows[0], LEARN = 400, LEARN_FROM = 1000000 };

/* Is one kind the other's cause, whatever its level? */
static bool same_cause(const visit_kind *a, const visit_kind *b)
{
    if (a->fault != b->fault) return false;
    if (a->fault == FAULT_READING) return a->kind == b->kind;
    if (a->fault == FAULT_TAP) return a->level == b->level;
    if (a->fault != FAULT_CHARGE && a->fault != FAULT_FEED) return true;
    return (a->level < 0) == (b->level < 0);
}

/* Logarithm of the odds of a cause, all its sizes together, against none; `k[i]` is one of them. */
static double odds_of(const double *log_p, const oracle_kind *k, int n, int i)
{
    double top = -INFINITY, sum = 0.0;
    for (int j = 1; j < n; j++)
        if (same_cause(&k[i].kind, &k[j].kind)) top = fmax(top, log_p[j]);
    if (!isfinite(top)) return -INFINITY;
    for (int j = 1; j < n; j++)
        if (same_cause(&k[i].kind, &k[j].kind))
            sum += k[j].weight * exp(log_p[j] - top); /* of strong faults the odds overflow */
    return top - log_p[0] + log(sum);
}

/* The likeliest cause and the next, as kinds of it, and the odds of the likeliest. */
typedef struct {
    int first, second;
    double odds;
} guessed;

static guessed guess(const double *log_p, const oracle_kind *k, int n)
{
    guessed g = {1, 1, -INFINITY};
    double next = -INFINITY;
    for (int i = 1; i < n; i++) {
        const double odds = odds_of(log_p, k, n, i);
        if (same_cause(&k[i].kind, &k[g.first].kind)) {
            if (odds > g.odds) g.odds = odds;
        } else if (odds > g.odds) {
            g.second = g.first;
            next = g.odds;
            g.first = i;
            g.odds = odds;
        } else if (odds > next) {
            g.second = i;
            next = odds;
        }
    }
    return g;
}

/* What can be named at best is worked out from; nothing where it is not asked for. */
typedef struct {
    oracle_kind kind[ORACLE_SUPPOSED];
    int n;
    oracle *o;
    double from; /* odds from which a cause is named */
} bound;

static void alarm_from(const visit_house *h, bound *b)
{
    double log_p[ORACLE_SUPPOSED], odds[LEARN];
    int n = 0;
    visit_house other = *h;
    other.from = LEARN_FROM;
    visit *v = visits_draw(&other, &b->kind[0].kind, LEARN);
    for (int i = 0; i < LEARN; i++) {
        if (!v[i].settles) continue;
        oracle_weigh(b->o, &v[i].shown, log_p);
        odds[n++] = guess(log_p, b->kind, b->n).odds;
    }
    free(v);
    qsort(odds, (size_t)n, sizeof odds[0], by_size);
    b->from = n > 0 ? odds[(int)((1.0 - FALSE_ALARMS) * n)] : (double)INFINITY;
}

/* Size of a row's fault is known to so much: enough to fill the gaps between the levels of one
 * cause. */
static double known_to(const visit_kind *k)
{
    switch (k->fault) {
    case FAULT_NONE:
    case FAULT_TAP: return 0.0;
    case FAULT_CHARGE: return 0.04;
    case FAULT_FEED:
    case FAULT_READING: return 0.3 * fabs(k->level);
    default: return 0.06;
    }
}

/* Who knows all, the rows of the table too, each cause as likely as any other. */
static void make_best(const visit_house *h, double scatter, bound *b)
{
    *b = (bound){.n = N_ROWS};
    for (int i = 0; i < N_ROWS; i++) {
        int levels = 0;
        for (int j = 0; j < N_ROWS; j++)
            levels += same_cause(&rows[i].kind, &rows[j].kind);
        b->kind[i] = (oracle_kind){rows[i].kind, known_to(&rows[i].kind), 1.0 / levels};
        b->kind[i].kind.scatter = scatter;
    }
    b->o = oracle_make(h, b->kind, b->n, NULL);
    if (b->o) alarm_from(h, b);
}

/* Who knows the second model, and of the rest what tune does. */
static void make_fair(const visit_house *h, double scatter, bound *b)
{
    oracle_doubt d;
    *b = (bound){.n = 0};
    b->n = oracle_suppose(h, scatter, b->kind, &d);
    if (b->n > 0) b->o = oracle_make(h, b->kind, b->n, &d);
    if (b->o) alarm_from(h, b);
}

/* Share of the visits in which a bound names a row's fault, first and among the first two. */
typedef struct {
    double first, two;
} at_best;

static at_best named_at_best(const bound *b, const visit *v, int n, const visit_kind *k)
{
    double log_p[ORACLE_SUPPOSED];
    int settled = 0, first = 0, two = 0;
    for (int s = 0; s < n && b->o; s++) {
        if (!v[s].settles) continue;
        settled++;
        oracle_weigh(b->o, &v[s].shown, log_p);
        const guessed g = guess(log_p, b->kind, b->n);
        const bool said = g.odds > b->from, sound = k->fault == FAULT_NONE;
        const bool leads = sound || same_cause(&b->kind[g.first].kind, k);
        first += said && leads;
        two += said && (leads || same_cause(&b->kind[g.second].kind, k));
    }
    if (settled == 0) return (at_best){(double)NAN, (double)NAN};
    return (at_best){(double)first / settled, (double)two / settled};
}

typedef struct {
    bound best, fair;
} bounds;

static void make_bounds(const visit_house *h, double scatter, bounds *b)
{
    make_best(h, scatter, &b->best);
    make_fair(h, scatter, &b->fair);
}

static void free_bounds(bounds *b)
{
    oracle_free(b->best.o);
    oracle_free(b->fair.o);
}

static void print_row(const visit_house *h, const bounds *b, int i, int n)
{
    tally t = {0};
    const visit_kind *k = &b->best.kind[i].kind;
    visit *v = visits_make(h, k, n);
    for (int s = 0; s < n; s++)
        count(&v[s], k, &t);
    const double percent = 100.0 / (t.settled ? t.settled : 1);
    const at_best best = named_at_best(&b->best, v, n, k), fair = named_at_best(&b->fair, v, n, k);
    printf(
        "%-24s %4d %5.0f %5.0f %5.0f %5.0f %5.0f %5.0f %5.0f %5.0f %6.0f %5.1f %5.0f %5.0f %5.0f  ",
        rows[i].name, t.settled, 100.0 * best.first, 100.0 * best.two, 100.0 * fair.first,
        100.0 * fair.two, percent * t.first, percent * t.family, percent * t.two, percent * t.alike,
        percent * t.ranked, percent * t.alarm, percent * t.odd, percent * t.impossible,
        percent * t.failed);
    for (int c = 0; c < CT_CAUSE_COUNT; c++)
        if (percent * t.cause[c] >= 5.0) printf(" %s %d", ct_cause_name((ct_cause)c), t.cause[c]);
    printf("\n");
    fflush(stdout);
    free(v);
}

/* best, two: a cause is named first, or among the first two, by who knows all, at as many false
 * alarms as FALSE_ALARMS; of sound systems, its alarms. fair, two: the same by who knows the second
 * model, and else what tune does (oracle_suppose). first: the cause is the first that is named.
 * family: the same, weak blower and slower tap being one. two: it is among the first two. side: it
 * is first, or beside the first that looks like it, with the check that tells. ranked: it is the
 * likeliest, named or not. alarm: something is said to be wrong. odd: the readings are said to
 * disagree. imp.: not fitted. */
static void print_causes(const visit_house *h, const options *o)
{
    static bounds b;
    make_bounds(h, o->scatter, &b);
    printf("%-24s %4s %5s %5s %5s %5s %5s %5s %5s %5s %6s %5s %5s %5s %5s   named first\n",
           "per cent of visits", "n", "best", "two", "fair", "two", "first", "fam.", "two", "side",
           "ranked", "alarm", "odd", "imp.", "fail");
    for (int i = 0; i < N_ROWS; i++)
        if (strstr(rows[i].name, o->row)) print_row(h, &b, i, o->seeds);
    free_bounds(&b);
}

/* The bounds alone, quickly. */
static void print_best(const visit_house *h, const options *o)
{
    static bounds b;
    make_bounds(h, o->scatter, &b);
    printf("best possible, fair, kit %u\n", h->kit);
    for (int i = 0; i < N_ROWS; i++) {
        if (!strstr(rows[i].name, o->row)) continue;
        const visit_kind *k = &b.best.kind[i].kind;
        visit *v = visits_draw(h, k, o->seeds);
        const at_best best = named_at_best(&b.best, v, o->seeds, k),
                      fair = named_at_best(&b.fair, v, o->seeds, k);
        printf("%-24s %5.0f %5.0f %5.0f %5.0f\n", rows[i].name, 100.0 * best.first,
               100.0 * best.two, 100.0 * fair.first, 100.0 * fair.two);
        fflush(stdout);
        free(v);
    }
    free_bounds(&b);
}

/* ---- What to read next -------------------------------------------------------------- */

static const struct {
    const char *name;
    unsigned kit;
    ct_reading_kind kind;
} added[] = {{"as read", 0, CT_READING_COUNT},
             {"+ condensate", VISIT_CONDENSATE, CT_CONDENSATE},
             {"+ airflow", VISIT_AIRFLOW, CT_AIRFLOW},
             {"+ air off the condenser", VISIT_LEAVING, CT_CONDENSER_LEAVING},
             {"+ return wet bulb again", VISIT_WET_BULB, CT_RETURN_WET_BULB}};
enum { ADDED = sizeof added / sizeof added[0] };

/* Is it what the visit as read advises first? */
static bool advised(const visit *v, ct_reading_kind kind)
{
    return v->settles && v->status == CT_OK && v->told.n_next > 0 && v->told.next[0].kind == kind;
}

static void print_added(const visit *as_read, const visit *v, const visit_kind *k, int n, int a)
{
    int settled = 0, first = 0, asked = 0;
    double u = 0.0, error = 0.0;
    for (int s = 0; s < n; s++) {
        const ct_tune *t = &v[s].told;
        if (!v[s].settles || v[s].status != CT_OK || !t->fitted) continue;
        settled++;
        first += t->wrong && visit_named(&v[s], k, 1, false) == 0;
        asked += advised(&as_read[s], added[a].kind);
        u += t->u_capacity;
        const double by = log(t->balance.Q_sens_net / v[s].Q_sens);
        error += by * by;
    }
    const double share = settled ? 1.0 / settled : 0.0;
    printf("    %-24s %4d  named first %3.0f %%  capacity: u %.1f %%, error %.1f %% (rms)  advised "
           "first in %3.0f %%\n",
           added[a].name, settled, 100.0 * first * share, 100.0 * u * share,
           100.0 * sqrt(error * share), 100.0 * asked * share);
    fflush(stdout);
}

/* What each added reading brings, beside how often it is the one advised. */
static void print_next(const visit_house *h, const options *o)
{
    for (int i = 0; i < N_ROWS; i++) {
        visit *v[ADDED];
        visit_kind k = rows[i].kind;
        k.scatter = o->scatter;
        if (!strstr(rows[i].name, o->row)) continue;
        printf("%s\n", rows[i].name);
        for (int a = 0; a < (int)ADDED; a++) {
            visit_house with = *h;
            with.kit = h->kit | added[a].kit;
            v[a] = visits_make(&with, &k, o->seeds);
            print_added(v[0], v[a], &k, o->seeds, a);
        }
        for (int a = 0; a < (int)ADDED; a++)
            free(v[a]);
    }
}

static void print_coverage(const visit_house *h, int n, double scatter)
{
    const visit_kind k = {FAULT_NONE, 0, 0, scatter};
    visit *v = visits_make(h, &k, n);
    int settled = 0, alarm = 0, odd = 0;
    printf("coverage, scatter %.1f of the priors\n", scatter);
    for (int u = 0; u < CT_TUNE_MULTIPLIERS; u++) {
        int in68 = 0, in95 = 0, m = 0;
        double sum = 0.0, sq = 0.0, width = 0.0;
        for (int i = 0; i < n; i++) {
            if (!v[i].settles || v[i].status != CT_OK || !v[i].told.fitted) continue;
            const ct_tune_value *x = &v[i].told.value[u];
            if (!x->fitted || (u == CT_TUNE_COIL && v[i].told.charge_first)) continue;
            const double truth = visit_truth(&v[i], (ct_tune_unknown)u);
            const double by = log(x->value / truth) / x->u;
            m++;
            in68 += fabs(by) <= 1.0;
            in95 += truth >= x->low && truth <= x->high;
            sum += log(x->value / truth);
            sq += by * by;
            width += x->u;
        }
        if (m)
            printf("  %-22s %4d  68 %%: %5.1f  95 %%: %5.1f  bias %+.3f  rms/u %.2f  u %.3f\n",
                   ct_tune_name((ct_tune_unknown)u), m, 100.0 * in68 / m, 100.0 * in95 / m, sum / m,
                   sqrt(sq / m), width / m);
    }
    for (int i = 0; i < n; i++) {
        if (!v[i].settles || v[i].status != CT_OK) continue;
        settled++;
        alarm += v[i].told.wrong;
        odd += v[i].told.fitted && !v[i].told.agree;
    }
    double *odds = calloc((size_t)n, sizeof *odds);
    int m = 0;
    for (int i = 0; odds && i < n; i++) {
        const ct_tune *t = &v[i].told;
        if (!v[i].settles || v[i].status != CT_OK || t->explained < 0) continue;
        odds[m++] = t->n_explanations > 0 ? t->explanation[0].chance / t->sound : 0.0;
    }
    if (m) {
        qsort(odds, (size_t)m, sizeof *odds, by_size);
        printf("  chance of the first cause over that of none: past %.2f in 2 of 100, %.2f in 4, "
               "%.2f in 5, %.2f in 10\n",
               odds[m - 1 - m * 2 / 100], odds[m - 1 - m * 4 / 100], odds[m - 1 - m * 5 / 100],
               odds[m - 1 - m / 10]);
    }
    free(odds);
    printf("  %d settled, alarm %.1f %%, do not agree %.1f %%\n", settled, 100.0 * alarm / settled,
           100.0 * odd / settled);
    free(v);
}

/* ---- Options ------------------------------------------------------------------------ */

static bool take(const char *arg, const char *name, const char **to)
{
    const size_t n = strlen(name);
    if (strncmp(arg, name, n) != 0 || arg[n] != '=') return false;
    *to = arg + n + 1;
    return true;
}

static bool read_options(int argc, char **argv, options *o)
{
    const char *seeds = "100", *scatter = "0.5", *kit = "0", *from = "0";
    *o = (options){
        .what = "", .row = "", .meter = "", .path = SOURCE_DIR "/examples/r22-larger-coil.yaml"};
    for (int i = 1; i < argc; i++)
        if (!take(argv[i], "seeds", &seeds) && !take(argv[i], "scatter", &scatter) &&
            !take(argv[i], "kit", &kit) && !take(argv[i], "what", &o->what) &&
            !take(argv[i], "row", &o->row) && !take(argv[i], "case", &o->path) &&
            !take(argv[i], "meter", &o->meter) && !take(argv[i], "from", &from)) {
            printf("tune_table: %s?\n", argv[i]);
            return false;
        }
    o->seeds = atoi(seeds);
    o->scatter = atof(scatter);
    o->kit = (unsigned)atoi(kit);
    o->from = atoi(from);
    return o->seeds > 0;
}

int main(int argc, char **argv)
{
    static const char *const meters[] = {"valve", "piston", "filled"};
    options o;
    visit_house h;
    gsl_set_error_handler_off();
    if (!read_options(argc, argv, &o)) return 1;
    for (int m = VISIT_VALVE; m <= VISIT_PISTON_FILLED; m++) {
        if (!strstr(meters[m], o.meter)) continue;
        if (!visit_house_make(o.path, (visit_meter)m, &h)) return 1;
        h.kit = o.kit;
        h.from = o.from;
        printf("%s\n", meters[m]);
        if (strcmp(o.what, "best") == 0) print_best(&h, &o);
        if (strcmp(o.what, "next") == 0) print_next(&h, &o);
        if (!*o.what || strcmp(o.what, "coverage") == 0) {
            print_coverage(&h, o.seeds, 1.0);
            print_coverage(&h, o.seeds, 0.5);
        }
        if (!*o.what || strcmp(o.what, "causes") == 0) print_causes(&h, &o);
        visit_house_free(&h);
    }
    return 0;
}
