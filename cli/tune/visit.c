#include "tune/visit.h"

#include <stdio.h>
#include <stdlib.h>

#include "base/complain.h"
#include "base/faults.h"
#include "base/progress.h"
#include "base/read_file.h"

static ct_status parse(const char *text, size_t size, visit *v, ct_case_report *report,
                       ct_fault *fault)
{
    v->is_log = ct_gauge_log_is(text, size);
    return v->is_log ? ct_gauge_log_parse(text, size, &v->readings, &v->log, report, fault)
                     : ct_readings_parse(text, size, &v->readings, report, fault);
}

exit_code visit_load(const char *path, visit *v)
{
    ct_fault fault;
    ct_case_report *report = malloc(sizeof *report);
    if (!report) {
        complain("%s: out of memory", path);
        return EXIT_SYSTEM;
    }
    size_t size;
    char *text = read_file_or_pipe(path, CT_GAUGE_LOG_BYTES + 1, &size);
    if (read_file_is_standard(path)) path = "standard input";
    if (!text) {
        complain("%s: cannot be read: %s", path, read_file_reason());
        free(report);
        return EXIT_SYSTEM;
    }
    *v = (visit){.path = path};
    const ct_status status = parse(text, size, v, report, &fault);
    free(text);
    if (status == CT_INPUT)
        faults_complain(path, report);
    else if (status != CT_OK)
        complain("%s: %s", path, fault.what);
    free(report);
    return exit_code_of(status);
}

exit_code visit_tune(const job *j, visit *v)
{
    const ct_setup setup = job_setup(j, 0);
    ct_fault fault;
    progress watch;
    progress_begin(&watch, "weighing causes");
    const ct_status status = ct_tune_run(&setup, &v->readings, &v->t, &fault);
    progress_end(&watch);
    if (status == CT_OK && v->t.tap >= 0) /* as the case writes it */
        snprintf(v->readings.tap, sizeof v->readings.tap, "%s",
                 j->sweep.unit->blower.tap[v->t.tap].name);
    if (status == CT_OK) return EXIT_DONE;
    complain("%s: %s: %s", v->path, ct_status_text(fault.status), fault.what);
    return exit_code_of(fault.status);
}

tune_result visit_result(const job *j, const visit *v, bool metric)
{
    return (tune_result){.j = j,
                         .verdict = verdict_of(j->c, j->refrigerant, j->sweep.unit, metric),
                         .t = &v->t,
                         .tap = v->readings.tap,
                         .low_ran = v->readings.stage == CT_RAN_LOW,
                         .log = v->is_log ? &v->log : NULL};
}

static bool in_doubt(const visit *v)
{
    const ct_tune *t = &v->t;
    return !t->agree || (t->explained >= 0 && t->cause[CT_CAUSE_READING] >= CT_TUNE_LIKELY);
}

exit_code visits_exit_code(const visit v[], int n, bool refused)
{
    bool doubt = false;
    for (int i = 0; i < n; i++) {
        if (!v[i].t.fitted) return EXIT_INPUT;
        doubt = doubt || in_doubt(&v[i]);
    }
    return refused ? EXIT_NO_PICK : doubt ? EXIT_DOUBT : EXIT_DONE;
}

void visits_complain(const visit v[], int n, const char *and)
{
    for (int i = 0; i < n; i++)
        if (!v[i].t.fitted)
            complain("%s: these readings cannot all be true; nothing was fitted%s", v[i].path, and);
}
