#include "show/heating_words.h"

#include <math.h>

#include "base/paragraph.h"
#include "show/heat_pump_words.h"
#include "show/json_out.h"
#include "show/limit_words.h"
#include "show/tap_words.h"

static void say_speed(FILE *out, const ct_heating *h, const ct_sweep_job *job, bool metric)
{
    char V[SHOWN_SIZE];
    const char *name = h->tap >= 0 ? job->blower.tap[h->tap].name : "";
    if (!h->known)
        fputs("nobody said which tap heats, so no speed is judged by it", out);
    else if (h->tap < 0)
        fprintf(out, "%s, as read in place", shown(V, Q_AIRFLOW, h->V, metric));
    else if (h->V > 0)
        fprintf(out, "set to %s%s, %s on these ducts", tap_prefix(name), name,
                shown(V, Q_AIRFLOW, h->V, metric));
    else
        fprintf(out, "set to %s%s, which cannot move air against these ducts", tap_prefix(name),
                name);
}

static void say_fails(FILE *out, const ct_judgment *j)
{
    if (j->verdict == CT_FAILS) fputs(" (FAILS)", out);
}

static void say_electric(FILE *out, const ct_heating *h, const ct_sweep_job *job, bool metric)
{
    const ct_limits *l = &job->c->limits;
    char P[SHOWN_SIZE], V[SHOWN_SIZE], rise[SHOWN_SIZE];
    if (!(h->V_electric_min > 0)) return;
    fputs("; the electric heat", out);
    if (l->P_strip.has) fprintf(out, ", %s,", shown(P, Q_ELECTRIC, l->P_strip.v, metric));
    fprintf(out, " needs at least %s", shown(V, Q_AIRFLOW, h->V_electric_min, metric));
    if (isfinite(h->rise_electric))
        fprintf(out, ", rise %s", shown(rise, Q_DELTA_T, h->rise_electric, metric));
    say_fails(out, &h->electric);
}

static void say_furnace(FILE *out, const ct_heating *h, const ct_sweep_job *job, bool metric)
{
    const ct_limits *l = &job->c->limits;
    char rise[SHOWN_SIZE], low[SHOWN_SIZE], high[SHOWN_SIZE], least[SHOWN_SIZE], most[SHOWN_SIZE];
    if (!(h->V_furnace_max > 0)) return;
    fputs("; the furnace", out);
    if (isfinite(h->rise_furnace))
        fprintf(out, ": rise %s", shown(rise, Q_DELTA_T, h->rise_furnace, metric));
    fprintf(out, "%s allowed %s to %s, which is %s down to %s",
            isfinite(h->rise_furnace) ? "," : ": rise",
            shown(low, Q_DELTA_T, l->dT_furnace_min.v, metric),
            shown(high, Q_DELTA_T, l->dT_furnace_max.v, metric),
            shown(most, Q_AIRFLOW, h->V_furnace_max, metric),
            shown(least, Q_AIRFLOW, h->V_furnace_min, metric));
    say_fails(out, &h->furnace);
}

/* Which taps would do: not listed when the one that heats does. */
static void say_taps(FILE *out, const ct_heating *h, const ct_sweep_job *job)
{
    const bool fails = ct_heating_fails(h);
    const char *between = " Taps that do: ";
    if ((h->known && !fails) || !ct_sweep_job_has_taps(job)) return;
    for (int i = 0; i < job->blower.n_taps; i++)
        if (h->suits & 1u << i) {
            fprintf(out, "%s%s", between, job->blower.tap[i].name);
            between = ", ";
        }
    fputs(h->suits ? "." : " No tap does on these ducts.", out);
}

static void say_why_best(FILE *out, const ct_heating *h, const ct_sweep_job *job, bool metric)
{
    const double V_best = ct_sweep_job_tap_airflow(job, h->best);
    const double V_std_per_ton = V_best * ct_sweep_job_thinness(job) / job->c->outdoor.tons;
    char usual[SHOWN_SIZE];
    if (h->tap < 0)
        fprintf(out, ": the %s",
                V_std_per_ton >= CT_HEATING_USUAL_FLOW ? "slowest that does with the usual "
                                                       : "fastest that does; usual is ");
    fputs(h->tap < 0            ? shown(usual, Q_AIRFLOW_PER_TON, CT_HEATING_USUAL_FLOW, metric)
          : ct_heating_fails(h) ? ": on the tap that heats now it fails"
          : V_best > h->V       ? ": with more air the same heat takes less power"
                                : ": that is air enough, and it comes out warmer",
          out);
}

/* The heating tap of a heat pump is picked as its cooling tap is. What is to be done comes
 * first. */
static void say_best(FILE *out, const ct_heating *h, const ct_sweep_job *job, bool metric)
{
    char V[SHOWN_SIZE];
    if (h->best < 0 || h->best == h->tap) return;
    const char *name = job->blower.tap[h->best].name;
    fprintf(out, "set it to %s%s, %s", tap_prefix(name), name,
            shown(V, Q_AIRFLOW, ct_sweep_job_tap_airflow(job, h->best), metric));
    say_why_best(out, h, job, metric);
    fputs(h->known ? ". As it is: " : ". So far ", out);
}

static void say_leave(FILE *out, const ct_heating *h, const ct_sweep_job *job)
{
    if (h->best < 0 || h->best != h->tap) return;
    const char *name = job->blower.tap[h->best].name;
    fprintf(out, " Leave it on %s%s.", tap_prefix(name), name);
}

void heating_explain(FILE *out, const ct_heating *h, const ct_sweep_job *job, bool metric)
{
    if (!h->asked) return;
    say_best(out, h, job, metric);
    say_speed(out, h, job, metric);
    heat_pump_explain(out, h, job, metric);
    say_electric(out, h, job, metric);
    say_furnace(out, h, job, metric);
    fputc('.', out);
    say_taps(out, h, job);
    say_leave(out, h, job);
    if (!h->known)
        fputs(" Say which tap heats: indoor.blower.heat_tap, or its heating_airflow.", out);
}

void heating_print(FILE *out, const ct_sweep_job *job, char letter, bool metric)
{
    char first[16];
    ct_heating h;
    paragraph text;
    FILE *t;
    ct_heating_of(job, &h);
    if (!h.asked || !(t = paragraph_open(&text))) return;
    heating_explain(t, &h, job, metric);
    snprintf(first, sizeof first, "%.1s%sHeating: ", letter ? &letter : "", letter ? ": " : "");
    paragraph_print(&text, out, first, 2);
}

/* ---- JSON ------------------------------------------------------------------------ */

static bool put_airflow(json_t *o, const char *name, double V, bool si)
{
    return !(V > 0) || put_value(o, name, Q_AIRFLOW, V, si);
}

static bool put_passes(json_t *o, const char *name, const ct_judgment *j)
{
    return j->verdict == CT_NOT_JUDGED || put_bool(o, name, j->verdict == CT_PASSES);
}

static bool put_taps(json_t *o, const ct_heating *h, const ct_sweep_job *job)
{
    json_t *list = open_array(o, "taps_that_do");
    bool good = list != NULL;
    for (int i = 0; good && i < job->blower.n_taps; i++)
        if (h->suits & 1u << i)
            good = json_array_append_new(list, json_string(job->blower.tap[i].name)) == 0;
    return good;
}

bool heating_put(json_t *object, const ct_sweep_job *job, bool si)
{
    ct_heating h;
    json_t *o;
    ct_heating_of(job, &h);
    if (!h.asked) return true;
    o = open_object(object, "heating");
    return o && put_bool(o, "known", h.known) &&
           (h.tap < 0 || put_text(o, "tap", job->blower.tap[h.tap].name)) &&
           (!h.known || put_value(o, "airflow", Q_AIRFLOW, h.V, si)) &&
           (h.best < 0 || put_text(o, "tap_picked", job->blower.tap[h.best].name)) &&
           (!isfinite(h.V_pump_min) ||
            put_airflow(o, "heat_pump_least_airflow", h.V_pump_min, si)) &&
           put_passes(o, "heat_pump_passes", &h.head) && heat_pump_put(o, job, si) &&
           put_airflow(o, "electric_least_airflow", h.V_electric_min, si) &&
           put_value(o, "electric_rise", Q_DELTA_T, h.rise_electric, si) &&
           put_passes(o, "electric_passes", &h.electric) &&
           put_airflow(o, "furnace_least_airflow", h.V_furnace_min, si) &&
           put_airflow(o, "furnace_most_airflow", h.V_furnace_max, si) &&
           put_value(o, "furnace_rise", Q_DELTA_T, h.rise_furnace, si) &&
           put_passes(o, "furnace_passes", &h.furnace) && put_taps(o, &h, job);
}
