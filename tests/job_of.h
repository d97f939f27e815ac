/* A job opened as a verb opens it, from a file and nothing else. */
#ifndef JOB_OF_H
#define JOB_OF_H

#include "base/job.h"

static inline exit_code job_of(const char *path, job *j)
{
    static arguments only;
    only.operand[0] = path;
    only.n_operands = 1;
    return job_open(&only, j);
}

#endif
