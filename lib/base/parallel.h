/* Parallel: the same work for many items on all cores.
 *
 * Workers take the next items as they become free. What an item's answer is must not depend on the
 * worker or the order: each writes to its own place only. Public. */
#ifndef CT_BASE_PARALLEL_H
#define CT_BASE_PARALLEL_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_MAX_WORKERS 64

/* Cores this process may run on, 1..CT_MAX_WORKERS; `wanted` instead when above 0. */
CT_API int ct_parallel_workers(int wanted);

/* Calls work(i, worker, context) once for each i of 0..n-1, worker 0..workers-1, and returns when
 * all is done. The caller's thread is worker 0; a thread that cannot be started is done without. */
typedef void (*ct_parallel_work)(int i, int worker, void *context);
CT_API void ct_parallel(int workers, int n, ct_parallel_work work, void *context);

#ifdef __cplusplus
}
#endif
#endif
