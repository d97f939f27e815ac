/* Loaded before a program (LD_PRELOAD): memory that fails.
 *
 *   FAULT_NTH=n        the n-th allocation of the process fails, once
 *   FAULT_RECORD=file  nothing fails; a line for each distinct call stack that allocates: the
 *                      number of its first allocation
 *   FAULT_SHOW=1       says where it failed, on standard error
 *
 * Counting alone walks past most places, because a few of them allocate nearly all there is. */
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

void *__libc_malloc(size_t);
void *__libc_calloc(size_t, size_t);
void *__libc_realloc(void *, size_t);

enum { SEEN = 1 << 14, DEPTH = 24 };

static atomic_long count;
static long fails_at = -1;
static int record = -1;
static bool show;
static uint64_t seen[SEEN];
static _Thread_local bool inside;

__attribute__((constructor)) static void begin(void)
{
    void *stack[DEPTH];
    const char *nth = getenv("FAULT_NTH"), *file = getenv("FAULT_RECORD");
    backtrace(stack, DEPTH); /* loads what it needs */
    if (file) record = open(file, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    if (nth) fails_at = atol(nth);
    show = getenv("FAULT_SHOW") != NULL;
    unsetenv("LD_PRELOAD"); /* not for gnuplot */
    atomic_store(&count, 0);
}

/* Is this stack new? FNV-1a over the addresses. */
static bool is_new(void)
{
    void *stack[DEPTH];
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    const int n = backtrace(stack, DEPTH);
    for (int i = 2; i < n; i++)
        hash = (hash ^ (uint64_t)(uintptr_t)stack[i]) * UINT64_C(0x100000001b3);
    for (size_t i = hash % SEEN;; i = (i + 1) % SEEN) {
        if (seen[i] == hash) return false;
        if (seen[i] == 0) {
            seen[i] = hash;
            return true;
        }
    }
}

static bool fails(void)
{
    const long n = atomic_fetch_add(&count, 1) + 1;
    char line[32];
    if (n == fails_at) {
        if (show) {
            void *stack[DEPTH];
            backtrace_symbols_fd(stack, backtrace(stack, DEPTH), STDERR_FILENO);
        }
        errno = ENOMEM;
        return true;
    }
    if (record < 0 || inside) return false;
    inside = true;
    if (is_new()) {
        const int size = snprintf(line, sizeof line, "%ld\n", n);
        if (write(record, line, (size_t)size) != size) record = -1;
    }
    inside = false;
    return false;
}

void *malloc(size_t size)
{
    return fails() ? NULL : __libc_malloc(size);
}

void *calloc(size_t n, size_t size)
{
    return fails() ? NULL : __libc_calloc(n, size);
}

void *realloc(void *old, size_t size)
{
    return fails() ? NULL : __libc_realloc(old, size);
}
