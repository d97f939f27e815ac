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

/* Readings that disagree, or one that is more likely off than not. */
bool visit_in_doubt(const visit *);

#endif
