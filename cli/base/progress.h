/* Progress: a sign of life on a terminal while something takes over a second.
 *
 * What is going on and for how long, on standard error, renewed each second and erased at the end.
 * Nothing when standard error is no terminal, nor when the work is done within a second. */
#ifndef CLI_BASE_PROGRESS_H
#define CLI_BASE_PROGRESS_H

#include <pthread.h>
#include <stdbool.h>

typedef struct {
    const char *what; /* "drawing cases" */
    bool runs, done;
    pthread_t thread;
    pthread_mutex_t lock;
    pthread_cond_t over;
} progress;

/* `what` lives until progress_end, which every begin needs. */
void progress_begin(progress *, const char *what);
void progress_end(progress *);

#endif
