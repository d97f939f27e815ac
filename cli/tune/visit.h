/* A visit: a file of readings or a log, read and tuned to. */
#ifndef CLI_TUNE_VISIT_H
#define CLI_TUNE_VISIT_H

#include "tune/result.h"

typedef struct {
    const char *path; /* as people see it */
    ct_readings readings;
    bool is_log;
    ct_gauge_log log;
    ct_tune t; /* filled by visit_tune */
} visit;

/* "-" is standard input. Not EXIT_DONE: the message is out. */
exit_code visit_load(const char *path, visit *);
exit_code visit_tune(const job *, visit *);

/* For those who write it out; borrows both. */
tune_result visit_result(const job *, const visit *, bool metric);

/* The exit code of n readings, the same in every verb that takes them; `refused`: the unit must not
 * be installed. EXIT_INPUT: readings that cannot all be true. EXIT_NO_PICK: refused. EXIT_DOUBT:
 * readings that disagree, or one that is more likely off than not. */
exit_code visits_exit_code(const visit v[], int n, bool refused);

/* A message for each of n readings that cannot all be true; `and` goes on after 'nothing was
 * fitted'. */
void visits_complain(const visit v[], int n, const char *and);

#endif
