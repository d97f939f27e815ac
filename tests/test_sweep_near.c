/* A sweep that begins at its neighbors, or where two of them lead, has the answers of one that
 * begins at nothing: every airflow and tap of an example over a few days, with a valve, a piston,
 * and a piston whose charge stays. */
#include <math.h>

#include "example_case.h"
#include "gsl_watch.h"
#include "plant/fill.h"

/* Days, K above the first one, unevenly apart. */
static const double days[] = {0.0, 1.0, 2.5, 3.0, 6.0};

enum { DAYS = sizeof days / sizeof days[0], POINTS = 15 };

typedef enum { VALVE, PISTON, PISTON_CHARGED, DEVICES } device;

static const char *const device_name[DEVICES] = {"valve", "piston", "piston with its charge"};

static ct_sweep alone, at[DAYS], begin;

static ct_sweep_job job_with(example *e, device d)
{
    ct_sweep_job job = example_job(e, 0);
    if (d == VALVE) return job;
    job.system.meter.kind = CT_METER_ORIFICE;
    job.system.meter.orifice = (ct_orifice){1.65e-3, 12.7e-3};
    if (d == PISTON_CHARGED)
        check_is("charge", ct_fill_piston(&e->c.outdoor, NULL, &job.system, NULL), ==, CT_OK);
    return job;
}

/* A ceiling is judged where the pick is made: not at airflows beside taps. The settled humidity is
 * found to 2e-7 kg/kg, a few 1e-5 of itself; of that the load carried moves by a third. */
static void same_point(const char *name, const ct_point *a, const ct_point *b)
{
    check_is(name, a->status, ==, b->status);
    if (a->status != CT_OK) return;
    check_abs(name, a->balance.Te, b->balance.Te, 1e-7);
    check_abs(name, a->balance.Tc, b->balance.Tc, 1e-7);
    check_abs(name, a->balance.subcooling, b->balance.subcooling, 1e-7);
    check_is(name, a->balance.charge_beyond, ==, b->balance.charge_beyond);
    check_rel(name, a->V, b->V, 1e-9);
    check_rel(name, a->P_blower, b->P_blower, 1e-9);
    check_is(name, a->has_design, ==, b->has_design);
    check_rel(name, a->Q_load_max, b->Q_load_max, 2e-5);
    for (int i = 0; i < CT_LIMIT_COUNT; i++)
        if (i != CT_LIMIT_HUMIDITY || a->tap >= 0)
            check_is(name, a->limit[i].verdict, ==, b->limit[i].verdict);
}

static const ct_point *tap_of(const ct_sweep *s, int tap)
{
    for (int i = 0; i < s->n_taps; i++)
        if (s->tap[i].tap == tap) return &s->tap[i];
    fail_msg("no tap %d", tap);
    return NULL;
}

static void same_sweep(const char *name, const ct_sweep *a, const ct_sweep *b)
{
    check_is(name, a->n, ==, b->n);
    check_is(name, a->n_taps, ==, b->n_taps);
    for (int i = 0; i < a->n; i++)
        same_point(name, &a->point[i], &b->point[i]);
    for (int i = 0; i < a->n_taps; i++)
        same_point(name, &a->tap[i], tap_of(b, a->tap[i].tap));
}

/* The day i from the one before it, or from where the two before it lead. */
static void go_on(const example *e, const ct_sweep_job *job, int i)
{
    if (i == 1) {
        ct_sweep_near(e->solver, job, &at[0], &at[1]);
        return;
    }
    ct_sweep_onward(&at[i - 2], &at[i - 1], (days[i] - days[i - 2]) / (days[i - 1] - days[i - 2]),
                    &begin);
    ct_sweep_near(e->solver, job, &begin, &at[i]);
}

static void near_as_alone(void **state)
{
    static const char *const names[] = {"r410a-humid", "r22-larger-coil"};
    (void)state;
    for (int k = 0; k < 2 * DEVICES; k++) {
        example *e = example_open(names[k / DEVICES]);
        const device d = (device)(k % DEVICES);
        e->c.sweep.points = POINTS;
        ct_sweep_job job = job_with(e, d);
        const double T_out = job.T_out;
        int balanced = 0;
        for (int i = 0; i < DAYS; i++) {
            job.T_out = T_out + days[i];
            check_is("runs", ct_sweep_run(e->solver, &job, &alone, NULL), ==, CT_OK);
            if (i == 0)
                at[0] = alone;
            else
                go_on(e, &job, i);
            same_sweep(device_name[d], &at[i], &alone);
            for (int p = 0; p < alone.n; p++)
                balanced += alone.point[p].status == CT_OK;
        }
        check_is(device_name[d], balanced, >, DAYS * POINTS / 2);
        example_close(e);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(near_as_alone)};
    gsl_watch();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
