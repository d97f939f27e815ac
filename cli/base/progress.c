#include "base/progress.h"

#include <stdio.h>
#include <time.h>
#include <unistd.h>

/* Each second, until the work is done. Whole seconds of the clock that a condition waits by. */
static void *watch(void *context)
{
    progress *p = context;
    struct timespec at;
    int seconds = 0;
    clock_gettime(CLOCK_REALTIME, &at);
    pthread_mutex_lock(&p->lock);
    while (!p->done) {
        at.tv_sec++;
        while (!p->done && pthread_cond_timedwait(&p->over, &p->lock, &at) == 0) {}
        if (!p->done) fprintf(stderr, "\r%s: %d s", p->what, ++seconds);
    }
    pthread_mutex_unlock(&p->lock);
    if (seconds > 0) fputs("\r\033[K", stderr);
    return NULL;
}

void progress_begin(progress *p, const char *what)
{
    *p = (progress){.what = what};
    if (!isatty(STDERR_FILENO)) return;
    pthread_mutex_init(&p->lock, NULL);
    pthread_cond_init(&p->over, NULL);
    p->runs = pthread_create(&p->thread, NULL, watch, p) == 0;
}

void progress_end(progress *p)
{
    if (!p->runs) return;
    pthread_mutex_lock(&p->lock);
    p->done = true;
    pthread_cond_signal(&p->over);
    pthread_mutex_unlock(&p->lock);
    pthread_join(p->thread, NULL);
}
