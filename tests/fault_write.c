/* Loaded before a program (LD_PRELOAD): files that fail.
 *
 *   FAULT_NTH=n        the n-th step that makes, fills, keeps, renames or removes a file fails, and
 *                      all later ones of its kind, as they would on a full disk or one that has
 *                      become read-only
 *   FAULT_COUNT=file   nothing fails; the number of steps is written there when the program ends
 *
 * Text leaves a stream at its flush or close, inside the C library, where nothing can stand before
 * it. There the stream's descriptor is put on /dev/full first, so the failure is a real one. */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

typedef enum { MAKE, FILL, KEEP, RENAME, REMOVE, KINDS } kind;

static atomic_long count;
static atomic_bool broken[KINDS];
static long fails_at = -1;
static const char *count_to;

__attribute__((constructor)) static void begin(void)
{
    const char *nth = getenv("FAULT_NTH");
    if (nth) fails_at = atol(nth);
    count_to = getenv("FAULT_COUNT");
    unsetenv("LD_PRELOAD"); /* not for gnuplot */
}

/* ISO C has no conversion from an object's address to a function's. */
typedef void (*function)(void);
static function next(const char *name)
{
    union {
        void *address;
        function call;
    } found = {.address = dlsym(RTLD_NEXT, name)};
    return found.call;
}

static bool fails(kind k, int error)
{
    if (atomic_fetch_add(&count, 1) + 1 == fails_at) atomic_store(&broken[k], true);
    if (!atomic_load(&broken[k])) return false;
    errno = error;
    return true;
}

__attribute__((destructor)) static void end(void)
{
    int (*const really)(const char *, int, ...) = (int (*)(const char *, int, ...))next("open");
    const int to = count_to ? really(count_to, O_WRONLY | O_CREAT | O_TRUNC, 0600) : -1;
    if (to >= 0) {
        dprintf(to, "%ld\n", atomic_load(&count));
        ((int (*)(int))next("close"))(to);
    }
}

/* ---- Streams --------------------------------------------------------------------- */

static void fill_up(FILE *f)
{
    int (*const really)(const char *, int, ...) = (int (*)(const char *, int, ...))next("open");
    struct stat there;
    const int at = f ? fileno(f) : -1;
    if (at < 0 || at == STDERR_FILENO || fstat(at, &there) != 0 ||
        (fcntl(at, F_GETFL) & O_ACCMODE) == 0)
        return;
    if (!fails(FILL, ENOSPC)) return;
    const int full = really("/dev/full", O_WRONLY | O_CLOEXEC);
    dup2(full, at);
    ((int (*)(int))next("close"))(full);
}

int fflush(FILE *f)
{
    fill_up(f);
    return ((int (*)(FILE *))next("fflush"))(f);
}

int fclose(FILE *f)
{
    fill_up(f);
    return ((int (*)(FILE *))next("fclose"))(f);
}

ssize_t write(int to, const void *text, size_t size)
{
    if (to != STDERR_FILENO && fails(FILL, ENOSPC)) return -1;
    return ((ssize_t(*)(int, const void *, size_t))next("write"))(to, text, size);
}

int ftruncate(int file, off_t size)
{
    if (fails(FILL, EIO)) return -1;
    return ((int (*)(int, off_t))next("ftruncate"))(file, size);
}

/* ---- Files ----------------------------------------------------------------------- */

int open(const char *path, int flags, ...)
{
    va_list rest;
    va_start(rest, flags);
    const mode_t mode = flags & O_CREAT ? va_arg(rest, mode_t) : 0;
    va_end(rest);
    if (flags & O_CREAT && fails(MAKE, EROFS)) return -1;
    return ((int (*)(const char *, int, ...))next("open"))(path, flags, mode);
}

int mkostemp(char *path, int flags)
{
    if (fails(MAKE, EROFS)) return -1;
    return ((int (*)(char *, int))next("mkostemp"))(path, flags);
}

int mkdir(const char *path, mode_t mode)
{
    if (fails(MAKE, EROFS)) return -1;
    return ((int (*)(const char *, mode_t))next("mkdir"))(path, mode);
}

char *mkdtemp(char *path)
{
    if (fails(MAKE, EROFS)) return NULL;
    return ((char *(*)(char *))next("mkdtemp"))(path);
}

int fsync(int file)
{
    if (fails(KEEP, EIO)) return -1;
    return ((int (*)(int))next("fsync"))(file);
}

int rename(const char *from, const char *to)
{
    if (fails(RENAME, EACCES)) return -1;
    return ((int (*)(const char *, const char *))next("rename"))(from, to);
}

/* A folder that has become read-only keeps its leftovers; here only the first removal fails, so
 * that what is left can be counted. */
int unlink(const char *path)
{
    const bool before = atomic_load(&broken[REMOVE]);
    if (fails(REMOVE, EROFS) && !before) return -1;
    return ((int (*)(const char *))next("unlink"))(path);
}
