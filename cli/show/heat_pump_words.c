#include "show/heat_pump_words.h"

#include <math.h>

#include "base/paragraph.h"
#include "show/cells.h"
#include "show/json_out.h"
#include "show/limit_words.h"

enum { NAME_WIDTH = 12, MAX_ROWS = CT_MAX_TAPS + 6 };

/* Coil area over the matched one's from which the charge is worth a word. */
#define CLEARLY_LARGER 1.1

void heat_pump_explain(FILE *out, const ct_heating *h, const ct_sweep_job *job, bool metric)
{
    const ct_heat_pump_spec *spec = &job->c->outdoor.heat_pump;
    char T[SHOWN_SIZE], most[SHOWN_SIZE], V[SHOWN_SIZE], out_T[SHOWN_SIZE], in[SHOWN_SIZE];
    const char *max = shown(most, Q_TEMPERATURE, job->c->limits.T_discharge_max, metric);
    if (!job->has_heat_pump) return;
    fprintf(out, "; the heat pump, at %s outdoors and %s return air,",
            shown(out_T, Q_TEMPERATURE, spec->T_out_max, metric),
            shown(in, Q_TEMPERATURE, spec->T_in_max, metric));
    if (h->head.verdict != CT_NOT_JUDGED)
        fprintf(out, " condenses at %s%s%s, allowed %s,",
                h->head.value < ct_refrigerant_T_max(job->heat_pump.refrigerant) ? "" : "beyond ",
                shown(T, Q_TEMPERATURE, h->head.value, metric),
                h->head.verdict == CT_FAILS ? " (FAILS)" : "", max);
    if (isfinite(h->V_pump_min))
        fprintf(out, " needs at least %s to stay under %s",
                shown(V, Q_AIRFLOW, h->V_pump_min, metric), max);
    else
        fprintf(out, " does not stay under %s at any airflow", max);
}

/* ---- Table ----------------------------------------------------------------------- */

typedef struct {
    const char *name; /* of the tap; NULL: an airflow */
    double V_per_ton; /* m3/s standard per ton */
    bool solved;
    ct_heating_pump_point at;
} row;

static double per_ton(const ct_sweep_job *job)
{
    return job->c->outdoor.tons / ct_sweep_job_thinness(job);
}

static void add(row *rows, int *n, const ct_sweep_job *job, row what)
{
    if (!(what.V_per_ton > 0)) return;
    what.solved = ct_heating_pump(job, what.V_per_ton * per_ton(job), &what.at, NULL) == CT_OK;
    rows[(*n)++] = what;
}

static int make_rows(const ct_sweep_job *job, row rows[MAX_ROWS])
{
    int n = 0;
    for (int i = 0; ct_sweep_job_has_taps(job) && i < job->blower.n_taps; i++)
        add(rows, &n, job,
            (row){.name = job->blower.tap[i].name,
                  .V_per_ton = ct_sweep_job_tap_airflow(job, i) / per_ton(job)});
    for (int cfm = 450; !ct_sweep_job_has_taps(job) && cfm > 250; cfm -= 50)
        add(rows, &n, job, (row){.V_per_ton = cfm * CT_M3S_PER_CFM});
    add(rows, &n, job, (row){.V_per_ton = 250 * CT_M3S_PER_CFM});
    return n;
}

static void print_row(FILE *out, const row *r, bool m)
{
    const ct_heating_pump_point *p = &r->at;
    const bool warm = r->solved && p->warm_status == CT_OK;
    const bool cold = r->solved && p->cold_status == CT_OK;
    const double thousand = m ? 1 : 1000;
    cell_left(out, NAME_WIDTH, r->name ? r->name : "airflow");
    cell_number(out, 6, 0, cell_value(Q_AIRFLOW, true, p->V > 0 ? p->V : (double)NAN, m));
    cell_number(out, 8, 0, cell_value(Q_AIRFLOW_PER_TON, true, r->V_per_ton, m));
    cell_number(out, 8, 1, cell_value(Q_HEAT, r->solved, p->rated.Q_net, m) / thousand);
    cell_number(out, 6, 2, r->solved ? p->rated.COP : (double)NAN);
    cell_number(out, 7, 1, cell_value(Q_TEMPERATURE, r->solved, p->rated.T_supply, m));
    cell_number(out, 10, 1, cell_value(Q_TEMPERATURE, r->solved, p->rated.Tc, m));
    cell_number(out, 9, 1, cell_value(Q_TEMPERATURE, warm, p->warm.Tc, m));
    cell_number(out, 8, 1, cell_value(Q_HEAT, cold, p->cold.Q_net, m) / thousand);
    fputc('\n', out);
}

/* Its area over that of the coil the unit was rated with. */
static double growth(const ct_sweep_job *job)
{
    return job->unit->coil.has_geometry ? job->system.coil.Ao / job->matched_area
                                        : job->unit->coil.size;
}

static void say_held(FILE *out, const ct_sweep_job *job, bool metric)
{
    const ct_coil_spec *coil = &job->unit->coil;
    const ct_heat_pump_spec *h = &job->c->outdoor.heat_pump;
    const double V = h->V_std / ct_sweep_job_thinness(job);
    ct_heating_balance b;
    double density;
    if (!coil->V_inside.has ||
        ct_sweep_job_heats(job, V, CT_HEATING_T_OUT, CT_HEATING_T_IN, &b, NULL) != CT_OK ||
        ct_heating_held(&job->heat_pump, &b, &density, NULL) != CT_OK)
        return;
    const double m = density * coil->V_inside.v / (metric ? 1.0 : CT_KG_PER_LBM);
    fprintf(out, ", about %.1f %s in its tubes, %.1f %s more than the matched coil by size", m,
            metric ? "kg" : "lb", m * (1.0 - 1.0 / growth(job)), metric ? "kg" : "lb");
}

static void print_charge(FILE *out, const ct_sweep_job *job, bool metric)
{
    paragraph text;
    FILE *t;
    if (!(growth(job) > CLEARLY_LARGER) || !(t = paragraph_open(&text))) return;
    fputs("This coil is larger than the one the unit was rated with: in winter it condenses at a "
          "lower head and holds more of the charge",
          t);
    say_held(t, job, metric);
    fputs(". Weigh the charge in after the makers' instructions; ask whether the unit needs an "
          "accumulator or a charge compensator.",
          t);
    paragraph_print(&text, out, "", 2);
}

static void print_cautions(FILE *out, const ct_sweep_job *job, bool metric)
{
    char outdoors[SHOWN_SIZE], indoors[SHOWN_SIZE], cold[SHOWN_SIZE], frost[SHOWN_SIZE];
    paragraph_wrap_text(
        out, "", 2,
        "At %s outdoors and %s indoors; hottest: the warmest day it heats; the last column is "
        "the capacity at %s, %s. Frost and defrost are left out; they take some of the capacity "
        "below about %s.",
        shown(outdoors, Q_TEMPERATURE, CT_HEATING_T_OUT, metric),
        shown(indoors, Q_TEMPERATURE, CT_HEATING_T_IN, metric),
        shown(cold, Q_TEMPERATURE, CT_HEATING_T_COLD, metric),
        job->c->outdoor.heat_pump.Q_net_cold.has
            ? "through its rating there"
            : "where the model gives up to a sixth more than the average unit; a rating there "
              "(rated_capacity_17) sets that right",
        shown(frost, Q_TEMPERATURE, ct_K_from_F(40), metric));
    print_charge(out, job, metric);
}

void heat_pump_print(FILE *out, const ct_sweep_job *job, bool metric)
{
    row rows[MAX_ROWS];
    if (!job->has_heat_pump) return;
    const int n = make_rows(job, rows);
    fprintf(out, "%-*s%6s%8s%8s%6s%7s%10s%9s%8s\n", NAME_WIDTH, "Heat pump", metric ? "L/s" : "cfm",
            "per ton", metric ? "kW" : "kBtu/h", "COP", "supply", "condenses", "hottest",
            metric ? "-8 C" : "17 F");
    for (int i = 0; i < n; i++)
        print_row(out, &rows[i], metric);
    print_cautions(out, job, metric);
}

/* ---- JSON ------------------------------------------------------------------------ */

static bool put_point(json_t *o, const row *r, bool si)
{
    const ct_heating_pump_point *p = &r->at;
    return put_value(o, "airflow", Q_AIRFLOW, p->V, si) &&
           put_value(o, "heating_capacity", Q_HEAT, p->rated.Q_net, si) &&
           put_value(o, "cop", Q_PLAIN, p->rated.COP, si) &&
           put_value(o, "supply", Q_TEMPERATURE, p->rated.T_supply, si) &&
           put_value(o, "saturated_discharge", Q_TEMPERATURE, p->rated.Tc, si) &&
           put_value(o, "saturated_suction", Q_TEMPERATURE, p->rated.Te, si) &&
           (p->warm_status != CT_OK ||
            put_value(o, "saturated_discharge_warmest", Q_TEMPERATURE, p->warm.Tc, si)) &&
           (p->cold_status != CT_OK ||
            put_value(o, "heating_capacity_17", Q_HEAT, p->cold.Q_net, si));
}

bool heat_pump_put(json_t *object, const ct_sweep_job *job, bool si)
{
    row rows[MAX_ROWS];
    if (!job->has_heat_pump) return true;
    const int n = make_rows(job, rows);
    json_t *list = open_array(object, "heat_pump");
    bool good = list != NULL;
    for (int i = 0; good && i < n; i++) {
        json_t *o = open_item(list);
        good = o && put_some_text(o, "tap", rows[i].name) &&
               put_value(o, "airflow_per_ton", Q_AIRFLOW_PER_TON, rows[i].V_per_ton, si) &&
               (!rows[i].solved || put_point(o, &rows[i], si));
    }
    return good;
}
