/* The pick of a case file, from a program of your own.
 *
 *   cc pick.c $(pkg-config --cflags --libs coiltrim) -o pick
 *   ./pick r22-larger-coil.yaml */
#include <coiltrim/coiltrim.h>

#include <stdio.h>
#include <stdlib.h>

/* What each step makes; the later ones hold pointers into the earlier. */
typedef struct {
    ct_case c;
    ct_case_report report;
    ct_refrigerant *refrigerant;
    ct_solver *solver;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration calibration;
    ct_ways ways;
    ct_sweep_job job;
    ct_sweep sweep;
    ct_pick pick;
} work;

static ct_status run(work *w, const char *path, ct_fault *fault)
{
    ct_status s = ct_casefile_load(path, &w->c, &w->report, fault);
    if (s != CT_OK) return s;
    s = ct_refrigerant_make(w->c.outdoor.refrigerant, &w->refrigerant, fault);
    if (s != CT_OK) return s;
    s = ct_solver_make(&w->solver, fault);
    if (s != CT_OK) return s;
    s = ct_settle(&w->c, w->refrigerant, w->solver, &w->report,
                  &(ct_settled){&w->outdoor, &w->matched, &w->calibration}, fault);
    if (s != CT_OK) return s;
    const ct_setup setup = {w->solver, &w->c, &w->outdoor, &w->matched, 0};
    s = ct_ways_find(&w->c, &setup, &w->report, &w->ways, fault);
    if (s == CT_OK) s = ct_sweep_prepare(&setup, &w->job, fault);
    if (s != CT_OK) return s;
    s = ct_sweep_run(w->solver, &w->job, &w->sweep, fault);
    if (s == CT_OK) ct_pick_lowest(&w->job, &w->sweep, &w->pick);
    return s;
}

static void show(const work *w)
{
    const ct_point *p = ct_pick_point(&w->pick, &w->sweep);
    if (!p) {
        printf("no speed passes\n");
        return;
    }
    printf("pick: %s, %.0f cfm, %.0f Btu/h sensible\n",
           p->tap < 0 ? "an airflow" : w->job.unit->blower.tap[p->tap].name, p->V / CT_M3S_PER_CFM,
           p->balance.Q_sens_net / CT_W_PER_BTUH);
}

int main(int argc, char **argv)
{
    ct_fault fault;
    /* Too large for the stack of a thread. */
    work *w = argc == 2 ? calloc(1, sizeof *w) : NULL;
    if (!w) {
        fprintf(stderr, argc == 2 ? "out of memory\n" : "usage: pick CASE\n");
        return 2;
    }
    const ct_status status = run(w, argv[1], &fault);
    if (status == CT_OK)
        show(w);
    else
        fprintf(stderr, "%s: %s\n", argv[1], fault.what);
    ct_solver_free(w->solver);
    ct_refrigerant_free(w->refrigerant);
    free(w);
    return status == CT_OK ? 0 : 1;
}
