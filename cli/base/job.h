/* Job: from a case file's name to everything a verb computes with.
 *
 * Reads the case from a file, from standard input (-), or from the pairs of the command line, which
 * may also change a file's keys; reports every fault in it, makes the refrigerant, sizes the
 * outdoor unit from its nameplate and joins it with the indoor unit in question. Every verb that
 * takes a case begins with job_open and ends with job_close. */
#ifndef CLI_BASE_JOB_H
#define CLI_BASE_JOB_H

#include "base/exit_codes.h"
#include "base/options.h"
#include "case/casefile.h"
#include "judge/sweep.h"
#include "plant/setup.h"
#include "study/ways.h"

typedef struct {
    const char *path; /* of the case file as people see it, borrowed from the caller */
    char *text;       /* the case file, owned; "" when pairs make the case */
    size_t size;
    ct_case *c;             /* owned, as are the next three */
    ct_case_report *report; /* holds what was assumed */
    ct_refrigerant *refrigerant;
    ct_solver *solver;
    ct_outdoor outdoor; /* sized from the nameplate */
    ct_coil matched;    /* the coil it was rated with */
    ct_calibration calibration;
    ct_ways ways;       /* load and airflow, by each way the case gives */
    ct_sweep_job sweep; /* with indoor[0]; points into c */
} job;

/* EXIT_DONE: everything is there, close it with job_close. Else the message is out and nothing is
 * left to close: EXIT_INPUT when the case is wrong, with a line `file:line: key: what` for each
 * fault; EXIT_MODEL when it is outside the model; EXIT_SYSTEM when it cannot be read. */
exit_code job_open(const arguments *, job *j);
void job_close(job *j);

/* Opens with `open`, one of the openers here, works with the options, closes. */
typedef exit_code job_opener(const arguments *, job *);
typedef exit_code job_work(job *, const option_value *);
exit_code job_run(const arguments *, job_opener *open, job_work *work);

/* Without the indoor unit: j->sweep is not filled. */
exit_code job_open_outdoor(const arguments *, job *j);

/* Only the case, for verbs that need no equipment. */
exit_code job_open_case(const arguments *, job *j);

/* The case of an opened job as the text of a file, with the pairs in it; to be freed. */
exit_code job_case_text(const arguments *, const job *, char **text);

/* False: its name is what one without a name is called. */
bool job_unit_is_named(const ct_indoor_unit *);

/* Asked for (`si`), or the case has most of its temperatures in C. */
bool job_is_metric(const job *j, bool si);

/* What the library works on, with indoor[i]; the job must outlive it. */
ct_setup job_setup(const job *j, int i);

/* Joins indoor[i] instead. On failure the message is out and j->sweep is as it was. */
exit_code job_join(job *j, int i, ct_sweep_job *sweep);

#endif
