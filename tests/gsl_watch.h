/* The library promises never to trigger GSL's error handler, which may end the host's process:
 * with this one in place a call fails the test. */
#ifndef GSL_WATCH_H
#define GSL_WATCH_H

#include "check.h"

#include <gsl/gsl_errno.h>

static inline void gsl_watch_failed(const char *reason, const char *file, int line, int number)
{
    print_error("GSL's error handler was called: %s (%s:%d, %d)\n", reason, file, line, number);
    fail();
}

static inline void gsl_watch(void)
{
    gsl_set_error_handler(gsl_watch_failed);
}

#endif
