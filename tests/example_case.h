/* A case of examples/ made into equipment, for tests that change one thing in it and look. */
#ifndef EXAMPLE_CASE_H
#define EXAMPLE_CASE_H

#include "check.h"

#include <stdio.h>
#include <stdlib.h>

#include "case/casefile.h"
#include "fluid/refrigerant.h"
#include "judge/sweep.h"
#include "plant/settle.h"

typedef struct {
    ct_case c;
    ct_case_report report;
    ct_refrigerant *refrigerant;
    ct_solver *solver;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration calibration;
} example;

/* name: "r22-larger-coil". */
static inline example *example_open(const char *name)
{
    char path[512];
    ct_fault fault = {.what = ""};
    example *e = calloc(1, sizeof *e);
    check_that("memory", e != NULL);
    snprintf(path, sizeof path, "%s/examples/%s.yaml", SOURCE_DIR, name);
    check_is(path, ct_casefile_load(path, &e->c, &e->report, &fault), ==, CT_OK);
    check_is("refrigerant", ct_refrigerant_make(e->c.outdoor.refrigerant, &e->refrigerant, &fault),
             ==, CT_OK);
    check_is("solver", ct_solver_make(&e->solver, &fault), ==, CT_OK);
    const ct_status status =
        ct_settle(&e->c, e->refrigerant, e->solver, &e->report,
                  &(ct_settled){&e->outdoor, &e->matched, &e->calibration}, &fault);
    check_is(fault.what, status, ==, CT_OK);
    return e;
}

static inline void example_close(example *e)
{
    ct_solver_free(e->solver);
    ct_refrigerant_free(e->refrigerant);
    free(e);
}

static inline ct_setup example_setup(const example *e, int unit)
{
    return (ct_setup){e->solver, &e->c, &e->outdoor, &e->matched, unit};
}

static inline ct_sweep_job example_job(const example *e, int unit)
{
    ct_sweep_job job;
    ct_fault fault = {.what = ""};
    const ct_setup setup = example_setup(e, unit);
    const ct_status status = ct_sweep_prepare(&setup, &job, &fault);
    check_is(fault.what, status, ==, CT_OK);
    return job;
}

#endif
