#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/job.h"
#include "show/json_out.h"
#include "show/limit_words.h"
#include "study/whatif.h"
#include "verbs.h"

enum { JSON, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [JSON] = {JSON_ROW("JSON instead of tables")},
    [SI] = {SI_ROW("metric tables; SI units in JSON")},
};

typedef struct {
    const job *j;
    const ct_sweep *sweep;
    const ct_whatif *w;
    const ct_reach *reach; /* of each speed */
    bool si;
} result;

static int n_speeds(const result *r)
{
    return r->w->from_taps ? r->sweep->n_taps : r->sweep->n;
}

static const ct_point *speed(const result *r, int i)
{
    return r->w->from_taps ? &r->sweep->tap[i] : &r->sweep->point[i];
}

static const char *speed_name(const result *r, int i, char text[SHOWN_SIZE])
{
    if (i < 0) return "none";
    const ct_point *p = speed(r, i);
    if (p->tap >= 0) return r->j->sweep.unit->blower.tap[p->tap].name;
    return shown(text, Q_AIRFLOW_PER_TON, p->V_std_per_ton, r->si);
}

/* ---- For people ------------------------------------------------------------------ */

enum { ROWS_WITHOUT_TAPS = 8 };

static void print_reach(const result *r, int i)
{
    const ct_reach *reach = &r->reach[i];
    char name[SHOWN_SIZE], load[SHOWN_SIZE], T[SHOWN_SIZE];
    printf("  %-16s %14s  %s\n", speed_name(r, i, name),
           speed(r, i)->status == CT_OK ? shown(load, Q_HEAT, reach->Q_load_max, r->si) : "none",
           reach->hot_status == CT_OK ? shown(T, Q_TEMPERATURE, reach->T_hottest, r->si) : "-");
}

/* Taps all; of the airflows of a sweep a few, and the pick. */
static void print_reaches(const result *r)
{
    const int n = n_speeds(r);
    const int rows = r->w->from_taps || n < ROWS_WITHOUT_TAPS ? n : ROWS_WITHOUT_TAPS;
    const char *told = "";
    for (int i = 0, k = 0; i < n; i++) {
        const bool row = i == (rows > 1 ? k * (n - 1) / (rows - 1) : 0);
        if (row || i == r->w->pick) print_reach(r, i);
        k += row;
    }
    for (int i = 0; i < n; i++) {
        if (r->reach[i].why[0] && strcmp(r->reach[i].why, told) != 0)
            printf("  (-: %s)\n", r->reach[i].why);
        if (r->reach[i].why[0]) told = r->reach[i].why;
    }
}

static void print_end(const char *direction, double sigmas)
{
    printf("      %s: from %.1f standard deviations on the case cannot be\n", direction, sigmas);
}

static void print_tipping(const result *r, const ct_tipping *t)
{
    const quantity q = quantity_of_kind(ct_vary_unit(t->input));
    char name[SHOWN_SIZE], size[SHOWN_SIZE], sigma[SHOWN_SIZE];
    printf("  %-21s", ct_vary_name(t->input));
    if (t->changes)
        printf("%c%-8s %5.2f x %-7s %s\n", t->change < 0 ? '-' : '+',
               shown(size, q, fabs(t->change), r->si), t->sigmas, shown(sigma, q, t->sigma, r->si),
               speed_name(r, t->to, name));
    else
        printf("nothing within %.0f x %s\n", CT_WHATIF_REACH, shown(sigma, q, t->sigma, r->si));
    if (t->ends_up) print_end("upwards", t->up);
    if (t->ends_down) print_end("downwards", t->down);
}

static void print_all(const result *r)
{
    char text[SHOWN_SIZE], load[SHOWN_SIZE];
    printf("Design sensible load %s, outdoors %s\n\n"
           "  %-16s %14s  hottest day with its load\n",
           shown(load, Q_HEAT, r->j->c->house.Q_sensible, r->si),
           shown(text, Q_TEMPERATURE, r->j->c->site.T_outdoor, r->si), "speed", "largest load");
    print_reaches(r);
    printf("\nWhat would change the answer first. The pick is: %s\n\n"
           "  %-21s%-9s %-15s %s\n",
           speed_name(r, r->w->pick, text), "input off by", "", "of its spread", "makes it");
    for (int i = 0; i < r->w->n; i++)
        print_tipping(r, &r->w->tipping[i]);
    fputs("\nEach input alone, all others as written. Spread: one standard deviation, section\n"
          "uncertainty of the case.\n",
          stdout);
}

/* ---- For programs ---------------------------------------------------------------- */

static json_t *reach_json(const result *r, int i)
{
    const ct_point *p = speed(r, i);
    json_t *o = json_object();
    char name[SHOWN_SIZE];
    const bool good = (p->tap < 0 || put_text(o, "tap", speed_name(r, i, name))) &&
                      put_value(o, "airflow_standard", Q_AIRFLOW, p->V_std, r->si) &&
                      put_value(o, "largest_load", Q_HEAT,
                                p->status == CT_OK ? r->reach[i].Q_load_max : (double)NAN, r->si) &&
                      put_value(o, "hottest_day", Q_TEMPERATURE, r->reach[i].T_hottest, r->si) &&
                      put_some_text(o, "why_no_hottest_day", r->reach[i].why);
    return json_when(good, o);
}

static json_t *tipping_json(const result *r, const ct_tipping *t)
{
    const quantity q = quantity_of_kind(ct_vary_unit(t->input));
    json_t *o = json_object();
    char name[SHOWN_SIZE];
    const bool good =
        put_text(o, "input", ct_vary_name(t->input)) &&
        put_value(o, "standard_deviation", q, t->sigma, r->si) &&
        put_bool(o, "changes", t->changes) && put_value(o, "change", q, t->change, r->si) &&
        put_value(o, "standard_deviations", Q_PLAIN, t->sigmas, r->si) &&
        (!t->changes || put_text(o, "pick", speed_name(r, t->to, name))) &&
        put_value(o, "impossible_above", Q_PLAIN, t->ends_up ? t->up : (double)NAN, r->si) &&
        put_value(o, "impossible_below", Q_PLAIN, t->ends_down ? -t->down : (double)NAN, r->si);
    return json_when(good, o);
}

static bool fill(json_t *root, const result *r)
{
    json_t *speeds = open_array(root, "speeds"), *first = open_array(root, "changes_first");
    char name[SHOWN_SIZE];
    bool good = speeds && first && put_text(root, "units", r->si ? "si" : "inch_pound") &&
                put_text(root, "pick", speed_name(r, r->w->pick, name));
    for (int i = 0; good && i < n_speeds(r); i++)
        good = json_array_append_new(speeds, reach_json(r, i)) == 0;
    for (int i = 0; good && i < r->w->n; i++)
        good = json_array_append_new(first, tipping_json(r, &r->w->tipping[i])) == 0;
    return good;
}

static exit_code print_json(const result *r)
{
    json_t *root = json_object();
    const bool good = fill(root, r);
    return print_answer(stdout, json_when(good, root), 9) ? EXIT_DONE : EXIT_SYSTEM;
}

/* ---- The verb -------------------------------------------------------------------- */

static exit_code ask(job *j, ct_sweep *s, ct_reach *reach, bool json, bool si)
{
    const ct_setup setup = job_setup(j, 0);
    ct_fault fault;
    ct_whatif w;
    if (ct_sweep_run(j->solver, &j->sweep, s, &fault) != CT_OK ||
        ct_whatif_run(&setup, s, &w, &fault) != CT_OK)
        return complain_fault(&fault);
    const result r = {j, s, &w, reach, si};
    for (int i = 0; i < n_speeds(&r); i++)
        ct_whatif_reach(j->solver, &j->sweep, speed(&r, i), &reach[i]);
    exit_code code = EXIT_DONE;
    if (json)
        code = print_json(&r);
    else
        print_all(&r);
    return code != EXIT_DONE || w.pick >= 0 ? code : EXIT_NO_PICK;
}

static exit_code run(const arguments *args)
{
    job j;
    exit_code code = job_open(args->operand[0], &j);
    if (code != EXIT_DONE) return code;
    ct_sweep *s = calloc(1, sizeof *s);
    ct_reach *reach = calloc(CT_MAX_SWEEP_POINTS, sizeof *reach);
    if (s && reach) {
        code = ask(&j, s, reach, args->option[JSON].given, args->option[SI].given);
    } else {
        complain("out of memory for the sweep");
        code = EXIT_SYSTEM;
    }
    free(reach);
    free(s);
    job_close(&j);
    return code;
}

const verb verb_whatif = {
    .name = "whatif",
    .purpose = "How far each speed reaches, and what would change the pick.",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "For each speed the largest load it carries on the design day, and the hottest\n"
               "day on which it carries that day's load. For each uncertain input (section\n"
               "uncertainty of the case) how far it must be off to make another speed the pick:\n"
               "the first line is the one to measure again. Exit code 10 when no speed passes.\n",
    .example = "  coiltrim whatif examples/r22-larger-coil.yaml\n",
    .run = run,
};
