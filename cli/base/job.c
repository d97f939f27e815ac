#include "base/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "plant/settle.h"

/* Keys a contradiction can come from, to look at first. */
#define NAMEPLATE_KEYS                                                                             \
    "outdoor.rated_capacity, rated_eer or rated_seer, rated_airflow, rated_sensible_ratio, "       \
    "rated_saturated_suction, rated_saturated_discharge"
#define UNIT_KEYS "coil, metering, blower; site.indoor_air"

static void tell_fault(const char *path, const ct_case_fault *fault)
{
    char line[16] = "", given[100] = "";
    if (fault->line > 0) snprintf(line, sizeof line, ":%d", fault->line);
    /* Many sentences quote it already. */
    if (fault->given[0] && !strstr(fault->what, fault->given) && !strstr(fault->key, fault->given))
        snprintf(given, sizeof given, " (given: %s)", fault->given);
    complain("%s%s: %s%s%s%s", path, line, fault->key, fault->key[0] ? ": " : "", fault->what,
             given);
}

void report_faults(const char *path, const ct_case_report *report)
{
    const int stored =
        report->n_faults < CT_MAX_CASE_FAULTS ? report->n_faults : CT_MAX_CASE_FAULTS;
    for (int i = 0; i < stored; i++)
        tell_fault(path, &report->fault[i]);
    if (report->n_faults > stored)
        complain("%s: and %d more faults", path, report->n_faults - stored);
}

/* The equipment does not go together: the fault's own words, and the keys it may come from. */
static exit_code tell_contradiction(const char *path, const char *keys, const ct_fault *fault)
{
    complain("%s: %s: %s (see the keys %s)", path, ct_status_text(fault->status), fault->what,
             keys);
    return exit_code_of(fault->status);
}

exit_code job_open_case(const char *path, job *j)
{
    ct_fault fault;
    *j = (job){.path = path, .c = malloc(sizeof *j->c), .report = malloc(sizeof *j->report)};
    if (!j->c || !j->report) {
        complain("%s: out of memory", path);
        job_close(j);
        return EXIT_SYSTEM;
    }
    const ct_status status = ct_casefile_load(path, j->c, j->report, &fault);
    if (status == CT_OK) return EXIT_DONE;
    if (status == CT_INPUT)
        report_faults(path, j->report);
    else
        complain("%s: %s", path, fault.what);
    job_close(j);
    return exit_code_of(status);
}

static exit_code tell_key(const char *path, const char *key, const ct_fault *fault)
{
    complain("%s: %s: %s", path, key, fault->what);
    return exit_code_of(fault->status);
}

ct_setup job_setup(const job *j, int i)
{
    return (ct_setup){j->solver, j->c, &j->outdoor, &j->matched, i};
}

exit_code job_join(job *j, int i, ct_sweep_job *sweep)
{
    const ct_setup setup = job_setup(j, i);
    ct_fault fault;
    char keys[200];
    if (ct_sweep_prepare(&setup, sweep, &fault) == CT_OK) return EXIT_DONE;
    if (i == 0)
        snprintf(keys, sizeof keys, "indoor: %s", UNIT_KEYS);
    else
        snprintf(keys, sizeof keys, "candidates[%d]: %s", i, UNIT_KEYS);
    return tell_contradiction(j->path, keys, &fault);
}

static exit_code make_equipment(job *j)
{
    ct_fault fault;
    if (ct_refrigerant_make(j->c->outdoor.refrigerant, &j->refrigerant, &fault) != CT_OK)
        return tell_key(j->path, "outdoor.refrigerant", &fault);
    if (ct_solver_make(&j->solver, &fault) != CT_OK) return complain_fault(&fault);
    if (ct_settle(j->c, j->refrigerant, j->solver, j->report, &j->outdoor, &j->matched,
                  &j->calibration, &fault) != CT_OK)
        return tell_contradiction(j->path, NAMEPLATE_KEYS, &fault);
    return EXIT_DONE;
}

exit_code job_open_outdoor(const char *path, job *j)
{
    exit_code code = job_open_case(path, j);
    if (code != EXIT_DONE) return code;
    code = make_equipment(j);
    if (code != EXIT_DONE) job_close(j);
    return code;
}

exit_code job_open(const char *path, job *j)
{
    exit_code code = job_open_outdoor(path, j);
    if (code != EXIT_DONE) return code;
    code = job_join(j, 0, &j->sweep);
    if (code != EXIT_DONE) job_close(j);
    return code;
}

void job_close(job *j)
{
    ct_solver_free(j->solver);
    ct_refrigerant_free(j->refrigerant);
    free(j->report);
    free(j->c);
    *j = (job){0};
}
