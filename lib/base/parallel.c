#include "base/parallel.h"

#include <pthread.h>
#include <sched.h>
#include <stdatomic.h>

int ct_parallel_workers(int wanted)
{
    cpu_set_t set;
    int n = wanted;

    if (n <= 0) n = sched_getaffinity(0, sizeof set, &set) == 0 ? CPU_COUNT(&set) : 1;
    return n < 1 ? 1 : n > CT_MAX_WORKERS ? CT_MAX_WORKERS : n;
}

typedef struct {
    atomic_int next;
    int n;
    ct_parallel_work work;
    void *context;
} queue;

typedef struct {
    queue *q;
    int worker;
} seat;

static void *serve(void *argument)
{
    const seat *s = argument;
    queue *q = s->q;

    for (int i = atomic_fetch_add(&q->next, 1); i < q->n; i = atomic_fetch_add(&q->next, 1))
        q->work(i, s->worker, q->context);
    return NULL;
}

void ct_parallel(int workers, int n, ct_parallel_work work, void *context)
{
    queue q = {.n = n, .work = work, .context = context};
    seat seats[CT_MAX_WORKERS];
    pthread_t threads[CT_MAX_WORKERS];
    int started = 1;

    if (workers > CT_MAX_WORKERS) workers = CT_MAX_WORKERS;
    for (int i = 0; i < workers || i == 0; i++)
        seats[i] = (seat){&q, i};
    while (started < workers && started < n &&
           pthread_create(&threads[started], NULL, serve, &seats[started]) == 0)
        started++;
    serve(&seats[0]);
    for (int i = 1; i < started; i++)
        pthread_join(threads[i], NULL);
}
