#include "base/write_file.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/complain.h"

static void forget(write_file *file)
{
    free(file->path);
    free(file->temporary);
    *file = (write_file){0};
}

static bool failed(write_file *file, const char *path, int error)
{
    complain("%s: cannot be written: %s", path, strerror(error));
    forget(file);
    return false;
}

/* mkstemp makes the file private; a result is as readable as any other file of the user's. */
static void open_up(int descriptor)
{
    const mode_t mask = umask(0);
    umask(mask);
    if (fchmod(descriptor, 0666 & ~mask) != 0)
        complain("only its owner can read the new file: %s", strerror(errno));
}

static bool open_beside(write_file *file)
{
    if (asprintf(&file->temporary, "%s.XXXXXX", file->path) < 0) {
        file->temporary = NULL;
        return false;
    }
    const int descriptor = mkstemp(file->temporary);
    if (descriptor < 0) return false;
    open_up(descriptor);
    file->stream = fdopen(descriptor, "w");
    if (file->stream) return true;
    const int error = errno;
    close(descriptor);
    unlink(file->temporary);
    errno = error;
    return false;
}

bool write_file_open(write_file *file, const char *path)
{
    struct stat there;
    const bool exists = stat(path, &there) == 0;
    *file = (write_file){0};
    if (!path[0]) return failed(file, "output file without a name", ENOENT);
    if (exists && S_ISDIR(there.st_mode)) return failed(file, path, EISDIR);
    /* A link keeps its name: what it points to is replaced. */
    file->path = exists ? realpath(path, NULL) : strdup(path);
    if (!file->path) return failed(file, path, errno);
    if (exists && !S_ISREG(there.st_mode)) {
        file->stream = fopen(file->path, "w");
        return file->stream ? true : failed(file, path, errno);
    }
    return open_beside(file) ? true : failed(file, path, errno);
}

/* All of it through every buffer; the first error counts. A write that failed long ago has left no
 * reason; a full disk is by far the likeliest. */
static int finish(write_file *file)
{
    const int earlier = ENOSPC;
    int error = 0;
    errno = 0;
    if (fflush(file->stream) != 0 || ferror(file->stream)) error = errno ? errno : earlier;
    if (!error && file->temporary && fsync(fileno(file->stream)) != 0) error = errno;
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
    if (good) return write_file_close(file);
    complain("%s: cannot be written", file->path);
    write_file_drop(file);
    return false;
}
