#include "base/write_file.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/complain.h"
#include "base/inputs.h"
#include "base/leftover.h"
#include "base/read_file.h"

/* Between the target's name and six characters of mkstemp's. */
#define MARK ".coiltrim-"

static void forget(write_file *file)
{
    leftover_drop(file->place);
    free(file->path);
    free(file->temporary);
    *file = (write_file){.place = -1};
}

static bool failed(write_file *file, const char *path, int error)
{
    const char *slash = strrchr(path, '/');
    if (error == EISDIR)
        complain("%s: cannot be written: it is a folder; give the name of a file", path);
    else if (error == ENOENT && slash)
        complain("%s: cannot be written: there is no folder '%.*s'", path, (int)(slash - path),
                 path);
    else
        complain("%s: cannot be written: %s", path, strerror(error));
    forget(file);
    return false;
}

/* mkstemp makes the file private; a new result is as readable as any other file of the user's, and
 * one that replaces another keeps that one's mode and, where that is allowed, its owner. */
static void set_mode(int descriptor, const struct stat *old)
{
    mode_t mode = old ? old->st_mode & 0777 : 0666;
    if (!old) {
        const mode_t mask = umask(0);
        umask(mask);
        mode &= ~mask;
    } else if (fchown(descriptor, old->st_uid, old->st_gid) != 0 && errno != EPERM) {
        complain("the new file has another owner: %s", strerror(errno));
    }
    if (fchmod(descriptor, mode) != 0)
        complain("only its owner can read the new file: %s", strerror(errno));
}

/* ---- The file beside it ----------------------------------------------------------- */

static bool is_ours(const char *entry, const char *name)
{
    const size_t n = strlen(name), mark = strlen(MARK);
    return strncmp(entry, name, n) == 0 && strncmp(entry + n, MARK, mark) == 0 &&
           strlen(entry + n + mark) == 6;
}

/* A run holds a lock on its file, so one without a lock belongs to a run that did not end. */
static void clear_one(int folder, const char *entry)
{
    struct stat there;
    const int file = openat(folder, entry, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) return;
    if (fstat(file, &there) == 0 && S_ISREG(there.st_mode) && flock(file, LOCK_EX | LOCK_NB) == 0)
        unlinkat(folder, entry, 0);
    close(file);
}

/* What interrupted runs have left for the same target. That it cannot be cleared is no failure. */
static void clear_killed(const char *path)
{
    const char *slash = strrchr(path, '/');
    char *folder = slash ? strndup(path, (size_t)(slash - path) + 1) : strdup(".");
    DIR *entries = folder ? opendir(folder) : NULL;
    const struct dirent *entry;
    while (entries && (entry = readdir(entries)))
        if (is_ours(entry->d_name, slash ? slash + 1 : path))
            clear_one(dirfd(entries), entry->d_name);
    if (entries) closedir(entries);
    free(folder);
}

/* A new file with its lock. Between the two another run may have cleared it: then once more. */
static int make_beside(write_file *file)
{
    for (;;) {
        struct stat there;
        if (asprintf(&file->temporary, "%s" MARK "XXXXXX", file->path) < 0) {
            file->temporary = NULL;
            errno = ENOMEM;
            return -1;
        }
        const int descriptor = mkostemp(file->temporary, O_CLOEXEC);
        if (descriptor < 0) return -1;
        file->place = leftover_add(file->temporary);
        flock(descriptor, LOCK_EX | LOCK_NB);
        if (fstat(descriptor, &there) == 0 && there.st_nlink > 0) return descriptor;
        close(descriptor);
        leftover_drop(file->place);
        file->place = -1;
        free(file->temporary);
    }
}

static bool open_beside(write_file *file, const struct stat *old)
{
    clear_killed(file->path);
    const int descriptor = make_beside(file);
    if (descriptor < 0) return false;
    set_mode(descriptor, old);
    file->stream = fdopen(descriptor, "w");
    if (file->stream) return true;
    const int error = errno;
    close(descriptor);
    unlink(file->temporary);
    errno = error;
    return false;
}

/* ---- Open and close --------------------------------------------------------------- */

static bool refuse_input(const char *path)
{
    complain("%s: this run reads it; it would be lost; choose another name for the result", path);
    return false;
}

/* A stream of its own on a copy of the descriptor, so that closing it leaves standard output. */
static bool open_standard(write_file *file)
{
    fflush(stdout);
    const int descriptor = dup(STDOUT_FILENO);
    file->path = strdup("standard output");
    file->stream = descriptor < 0 ? NULL : fdopen(descriptor, "w");
    if (file->path && file->stream) return true;
    if (descriptor >= 0 && !file->stream) close(descriptor);
    return failed(file, "standard output", errno);
}

bool write_file_open(write_file *file, const char *path)
{
    struct stat there;
    *file = (write_file){.place = -1};
    if (read_file_is_standard(path)) return open_standard(file);
    const bool exists = stat(path, &there) == 0;
    if (!path[0]) return failed(file, "output file without a name", ENOENT);
    if (exists && S_ISDIR(there.st_mode)) return failed(file, path, EISDIR);
    if (exists && inputs_has(&there)) return refuse_input(path);
    /* A link keeps its name: what it points to is replaced. */
    file->path = exists ? realpath(path, NULL) : strdup(path);
    if (!file->path) return failed(file, path, errno);
    if (exists && !S_ISREG(there.st_mode)) {
        file->stream = fopen(file->path, "w");
        return file->stream ? true : failed(file, path, errno);
    }
    return open_beside(file, exists ? &there : NULL) ? true : failed(file, path, errno);
}

/* All of it through every buffer; the first error counts. A write that failed long ago has left no
 * reason; a full disk is by far the likeliest. */
static int finish(write_file *file)
{
    const int earlier = ENOSPC;
    int error = complain_is_incomplete() ? ENOMEM : 0;
    errno = 0;
    if (fflush(file->stream) != 0 || ferror(file->stream)) error = errno ? errno : earlier;
    if (!error && file->temporary && !file->again && fsync(fileno(file->stream)) != 0)
        error = errno;
    if (fclose(file->stream) != 0 && !error) error = errno;
    return error;
}

bool write_file_close(write_file *file)
{
    int error = finish(file);
    if (!error && file->temporary && rename(file->temporary, file->path) != 0) error = errno;
    if (error) {
        if (file->temporary) unlink(file->temporary);
        complain("%s: cannot be written: %s", file->path, strerror(error));
    }
    forget(file);
    return !error;
}

void write_file_drop(write_file *file)
{
    fclose(file->stream);
    if (file->temporary) unlink(file->temporary);
    forget(file);
}

bool write_file_end(write_file *file, bool good)
{
    /* A stream that failed knows why. */
    if (good || ferror(file->stream)) return write_file_close(file);
    complain("%s: cannot be written", file->path);
    write_file_drop(file);
    return false;
}

bool write_file_end_at(write_file *file, bool good, const char *what, const char *path)
{
    const bool is_file = file->temporary != NULL;
    if (!write_file_end(file, good)) return false;
    if (is_file) printf("The %s is in %s\n", what, path);
    return true;
}
