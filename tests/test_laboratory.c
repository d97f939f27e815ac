/* A laboratory unit run by run: NISTIR 7350 (Kim, Payne, Domanski & Hermes 2006), appendix D, the
 * fault-free runs of a split R-410A heat pump in cooling with a thermostatic valve and fixed
 * airflow. Its nameplate is read between runs 7 and 9 at 95 F outdoors, as a maker's sheet and an
 * installer's gauges would give it; every other number is predicted. */
#include <stdio.h>
#include <stdlib.h>

#include "base/units.h"
#include "check.h"
#include "one_solver.h"
#include "plant.h"
#include "plant/balance.h"

#define ROWS(a) (sizeof(a) / sizeof((a)[0]))

/* One run as the report has it. F, standard cfm, W, Btu/h (air side, net of the blower), psia. */
typedef struct {
    const char *name;
    double T_in, dew_in, T_out; /* indoor dry bulb and dew point, outdoor dry bulb */
    double scfm, blower;
    double latent, sensible;
    double total_W, compressor_W; /* the whole unit, and its compressor */
    double flow;                  /* lbm/h of refrigerant */
    double p_coil_out, superheat, subcooling;
    double T_suction, p_suction, p_discharge;
    double T_liquid, p_valve; /* liquid leaving outdoors, pressure at the valve */
} run;

static const run runs[] = {
    {"2", 70.29, 50.27, 69.69, 1043.6, 431.35, 4893.5, 23297.5, 2063.0, 1467.1, 378.63, 136.44,
     13.96, 8.24, 59.01, 134.17, 282.75, 77.86, 263.42},
    {"4", 69.87, 50.47, 81.73, 1030.9, 425.01, 4455.9, 21596.0, 2276.8, 1692.0, 377.89, 138.41,
     13.22, 7.89, 60.53, 136.16, 333.65, 90.44, 314.03},
    {"5", 80.00, 60.38, 81.76, 1011.9, 417.19, 7574.1, 22880.0, 2334.6, 1757.7, 435.58, 158.78,
     14.96, 8.55, 68.82, 156.32, 345.92, 92.01, 320.41},
    {"6", 69.84, 50.29, 90.03, 1041.5, 429.06, 3632.5, 21574.1, 2516.9, 1928.2, 376.74, 140.11,
     12.73, 7.65, 61.75, 137.97, 371.68, 98.84, 351.85},
    {"7", 79.97, 60.84, 89.95, 1008.6, 416.91, 7266.5, 22444.3, 2540.5, 1965.6, 440.16, 161.98,
     14.12, 8.29, 69.92, 159.47, 385.52, 100.53, 359.29},
    {"9", 79.99, 60.58, 99.97, 1010.7, 418.57, 5927.3, 21382.4, 2825.1, 2249.9, 433.15, 162.94,
     14.12, 7.86, 71.38, 160.65, 434.60, 110.48, 408.36},
    {"11 dry", 80.28, 32.01, 69.77, 1045.8, 434.65, 0, 30670.9, 2074.2, 1474.7, 397.99, 143.19,
     15.41, 8.16, 62.67, 140.77, 285.79, 78.7, 265.02},
    {"13 dry", 80.23, 35.65, 81.83, 1014.9, 424.00, 0, 28969.4, 2325.4, 1741.6, 396.63, 145.94,
     14.07, 7.92, 64.05, 143.53, 338.56, 91.45, 317.39},
    {"17 dry", 80.12, 32.01, 99.89, 1039.5, 429.64, 0, 26791.1, 2810.2, 2222.5, 405.02, 153.33,
     13.36, 7.09, 67.94, 151.01, 426.83, 110.07, 403.9},
};
#define RUN_7 (&runs[4])
#define RUN_9 (&runs[5])

static double T_dew(const ct_refrigerant *r, double psia)
{
    double T;
    assert_int_equal(ct_refrigerant_T_dew(r, psia * CT_PA_PER_PSI, &T, NULL), CT_OK);
    return T;
}

/* Straight between runs 7 and 9 to 95 F outdoors. */
static double between_runs(double at_7, double at_9)
{
    const double x = (95.0 - RUN_7->T_out) / (RUN_9->T_out - RUN_7->T_out);
    return at_7 + x * (at_9 - at_7);
}
#define RATED(field) between_runs(RUN_7->field, RUN_9->field)

static double gross(const run *r)
{
    return (r->latent + r->sensible) * CT_W_PER_BTUH + r->blower;
}

static double gross_sensible(const run *r)
{
    return r->sensible * CT_W_PER_BTUH + r->blower;
}

/* What a maker's sheet and an installer's gauges say of the unit at 95 F: nothing of any run but
 * 7 and 9. */
static void nameplate(ct_case *c, const ct_refrigerant *r)
{
    ct_outdoor_unit *u = &c->outdoor;
    const double suction = between_runs(T_dew(r, RUN_7->p_suction), T_dew(r, RUN_9->p_suction));
    const double coil = between_runs(T_dew(r, RUN_7->p_coil_out), T_dew(r, RUN_9->p_coil_out));

    plant_case(c, "R-410A", 2.5);
    u->Q_net = (RATED(latent) + RATED(sensible)) * CT_W_PER_BTUH;
    u->EER = u->Q_net / RATED(total_W);
    u->V_rated_std = RATED(scfm) * CT_M3S_PER_CFM;
    u->P_blower_rated = RATED(blower);
    u->P_fan = RATED(total_W) - RATED(compressor_W) - RATED(blower);
    u->SHR_rated = between_runs(gross_sensible(RUN_7), gross_sensible(RUN_9)) /
                   between_runs(gross(RUN_7), gross(RUN_9));
    u->T_suction_rated = suction;
    u->T_discharge_rated = between_runs(T_dew(r, RUN_7->p_discharge), T_dew(r, RUN_9->p_discharge));
    u->superheat_rated = RATED(superheat) / CT_F_PER_K;
    u->subcooling = RATED(subcooling) / CT_F_PER_K;
    u->suction_drop = coil - suction;
    u->suction_gain = K_(RATED(T_suction)) - suction - u->superheat_rated - u->suction_drop;
    c->indoor[0].meter.superheat = u->superheat_rated;
}

/* Net capacity by the refrigerant: its flow and enthalpies, less the blower's heat. W. */
static double net_by_refrigerant(const ct_refrigerant *r, const run *q)
{
    ct_vapor v;
    ct_liquid l;
    double T_bubble;
    assert_int_equal(
        ct_refrigerant_vapor(r, T_dew(r, q->p_coil_out), q->superheat / CT_F_PER_K, &v, NULL),
        CT_OK);
    assert_int_equal(ct_refrigerant_T_bubble(r, q->p_valve * CT_PA_PER_PSI, &T_bubble, NULL),
                     CT_OK);
    assert_int_equal(ct_refrigerant_liquid(r, T_bubble, T_bubble - K_(q->T_liquid), &l, NULL),
                     CT_OK);
    return q->flow * CT_KG_PER_LBM / 3600 * (v.h - l.h) - q->blower;
}

static ct_conditions conditions(const run *r)
{
    ct_conditions at = {.T_out = K_(r->T_out),
                        .m_da = r->scfm * CT_M3S_PER_CFM * CT_STD_DENSITY,
                        .P_blower = r->blower};
    assert_int_equal(ct_air_from_dew_point(K_(r->T_in), K_(r->dew_in), CT_ATM_PA, &at.in, NULL),
                     CT_OK);
    return at;
}

/* ---- measured and predicted ---- */

enum { TOTAL, SENSIBLE, POWER, SUCTION, QUANTITIES };

/* What must hold at every run, and for the median half of it: percent, and F for the suction. The
 * report's two ways to measure capacity, by air and by refrigerant, lie up to 7 % apart from run to
 * run (by_refrigerant below). */
static const struct {
    const char *name, *unit;
    double limit;
} quantities[QUANTITIES] = {{"total", "%", 3.0},
                            {"sensible", "%", 4.0},
                            {"power", "%", 2.5},
                            {"saturated suction", "F", 1.0}};

typedef struct {
    double measured[QUANTITIES], predicted[QUANTITIES]; /* Btu/h net, Btu/h net, W, F */
    double off[QUANTITIES];
} row;

static void compare(row *w)
{
    for (int k = 0; k < QUANTITIES; k++)
        w->off[k] = k == SUCTION ? w->predicted[k] - w->measured[k]
                                 : 100 * (w->predicted[k] / w->measured[k] - 1);
}

static row predict(const plant *p, const run *q, double measured_total)
{
    const ct_conditions at = conditions(q);
    ct_fault fault = {.what = ""};
    ct_balance b;
    if (ct_balance_solve(solver, &p->sys, &at, NULL, &b, &fault) != CT_OK)
        fail_msg("run %s: %s", q->name, fault.what);
    row w = {{measured_total / CT_W_PER_BTUH, q->sensible, q->total_W,
              ct_F_from_K(T_dew(p->r, q->p_suction))},
             {b.Q_net / CT_W_PER_BTUH, b.Q_sens_net / CT_W_PER_BTUH,
              b.P_compressor + q->blower + p->outdoor.P_fan, ct_F_from_K(b.Te)},
             {0}};
    compare(&w);
    return w;
}

static void print_row(const run *q, const row *w)
{
    print_message("%-6s %3.0f/%2.0f %3.0f F ", q->name, q->T_in, q->dew_in, q->T_out);
    for (int k = 0; k < QUANTITIES; k++)
        print_message(" | %7.*f %7.*f %+5.*f", k == SUCTION, w->measured[k], k == SUCTION,
                      w->predicted[k], k == SUCTION ? 2 : 1, w->off[k]);
    print_message("\n");
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median_off(const row *rows, int quantity)
{
    double off[ROWS(runs)];
    for (size_t i = 0; i < ROWS(runs); i++)
        off[i] = fabs(rows[i].off[quantity]);
    qsort(off, ROWS(runs), sizeof *off, by_size);
    return off[ROWS(runs) / 2];
}

static void open_unit(plant *p)
{
    ct_refrigerant *r;
    assert_int_equal(ct_refrigerant_make("R-410A", &r, NULL), CT_OK);
    nameplate(&p->c, r);
    ct_refrigerant_free(r);
}

static void calibrate(plant *p)
{
    ct_fault fault = {.what = ""};
    if (plant_calibrate(p, &fault) != CT_OK) fail_msg("%s", fault.what);
}

/* The main comparison: capacity by air, as in the standard's rating. */
static void nine_runs(void **state)
{
    static plant p;
    row rows[ROWS(runs)];
    (void)state;
    open_unit(&p);
    calibrate(&p);
    print_message(
        "run    indoors out    | total, Btu/h net      | sensible              | power, W "
        "             | saturated suction, F\n");
    for (size_t i = 0; i < ROWS(runs); i++) {
        rows[i] = predict(&p, &runs[i], gross(&runs[i]) - runs[i].blower);
        print_row(&runs[i], &rows[i]);
        for (int k = 0; k < QUANTITIES; k++)
            check_abs(runs[i].name, rows[i].off[k], 0, quantities[k].limit);
    }
    for (int k = 0; k < QUANTITIES; k++) {
        print_message("median %s %.2f %s\n", quantities[k].name, median_off(rows, k),
                      quantities[k].unit);
        check_is(quantities[k].name, median_off(rows, k), <=, 0.5 * quantities[k].limit);
    }
    plant_free(&p);
}

/* Why the dry runs come out low above, by 2.7 % in the mean: the nameplate is from wet runs, where
 * the report's air side reads 4 to 6 % below its refrigerant side; in the dry runs it reads -2 to
 * +1 %. With the total measured by the refrigerant throughout, nameplate and runs, the dry runs
 * come out high instead, and closer to the wet ones. */
static void by_refrigerant(void **state)
{
    static plant p;
    double wet = 0, dry = 0;
    (void)state;
    open_unit(&p);
    ct_refrigerant *r;
    assert_int_equal(ct_refrigerant_make("R-410A", &r, NULL), CT_OK);
    p.c.outdoor.Q_net = between_runs(net_by_refrigerant(r, RUN_7), net_by_refrigerant(r, RUN_9));
    p.c.outdoor.EER = p.c.outdoor.Q_net / RATED(total_W);
    ct_refrigerant_free(r);
    calibrate(&p);
    for (size_t i = 0; i < ROWS(runs); i++) {
        const double net = net_by_refrigerant(p.r, &runs[i]);
        const row w = predict(&p, &runs[i], net);
        print_message("%-6s air side %+5.1f %% of refrigerant side; total predicted %+5.1f %%\n",
                      runs[i].name, 100 * ((gross(&runs[i]) - runs[i].blower) / net - 1),
                      w.off[TOTAL]);
        check_abs(runs[i].name, w.off[TOTAL], 0, quantities[TOTAL].limit);
        if (runs[i].latent > 0)
            wet += w.off[TOTAL] / 6;
        else
            dry += w.off[TOTAL] / 3;
    }
    print_message("mean wet %+.2f %%, dry %+.2f %%\n", wet, dry);
    check_abs("wet against dry", dry - wet, 0, 2.0);
    plant_free(&p);
}

/* Heat into the suction line, of which the nameplate has one value: it must follow the weather as
 * measured. One constant value would be 1.6 F off; an F of superheat is what a gauge reads to. */
static void suction_line(void **state)
{
    static plant p;
    double worst = 0;
    (void)state;
    open_unit(&p);
    calibrate(&p);
    for (size_t i = 0; i < ROWS(runs); i++) {
        const run *q = &runs[i];
        const double Te = T_dew(p.r, q->p_suction);
        const double measured = q->T_suction - ct_F_from_K(Te) - q->superheat;
        const double got = CT_F_PER_K * ct_plant_line_superheat(&p.outdoor, K_(q->T_out), Te);
        print_message("%-6s superheat from coil to compressor %.1f F measured, %.1f F\n", q->name,
                      measured, got);
        worst = fmax(worst, fabs(got - measured));
    }
    check_is("line, F", worst, <, 1.1);
    plant_free(&p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(nine_runs),
                                       cmocka_unit_test(by_refrigerant),
                                       cmocka_unit_test(suction_line)};
    return cmocka_run_group_tests(tests, solver_make, solver_drop);
}
