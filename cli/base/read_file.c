#include "base/read_file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* The error number used for a device, a pipe or a socket. */
enum { NOT_REGULAR = ENOTSUP };

bool read_file_is_standard(const char *path)
{
    return strcmp(path, "-") == 0;
}

const char *read_file_reason(void)
{
    return errno == NOT_REGULAR ? "it is no regular file, but a device or a pipe"
           : errno == ENOENT    ? "there is no such file"
           : errno == EISDIR    ? "it is a folder"
                                : strerror(errno);
}

static char *read_stream(FILE *f, size_t limit, size_t *size)
{
    char *text = NULL;
    size_t room = 0, used = 0;
    for (;;) {
        if (used + 1 >= room) {
            char *larger = realloc(text, room = room ? 2 * room : 8192);
            if (!larger) break;
            text = larger;
        }
        const size_t free_room = room - used - 1, left = limit - used;
        const size_t n = fread(text + used, 1, free_room < left ? free_room : left, f);
        used += n;
        if (n > 0 && used < limit) continue;
        if (ferror(f)) break;
        text[used] = '\0';
        *size = used;
        return text;
    }
    free(text);
    return NULL;
}

/* Opened without waiting: a pipe that nobody writes to would hold the run for ever. */
static FILE *open_regular(const char *path)
{
    struct stat there;
    const int descriptor = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0) return NULL;
    int error = fstat(descriptor, &there) != 0 ? errno : 0;
    if (!error && !S_ISREG(there.st_mode)) error = S_ISDIR(there.st_mode) ? EISDIR : NOT_REGULAR;
    FILE *f = error ? NULL : fdopen(descriptor, "rb");
    if (f) return f;
    if (!error) error = errno;
    close(descriptor);
    errno = error;
    return NULL;
}

static char *read_and_close(FILE *f, size_t limit, size_t *size)
{
    if (!f) return NULL;
    char *text = read_stream(f, limit, size);
    const int error = errno;
    fclose(f);
    errno = error;
    return text;
}

char *read_file(const char *path, size_t limit, size_t *size)
{
    if (read_file_is_standard(path)) return read_stream(stdin, limit, size);
    return read_and_close(open_regular(path), limit, size);
}

char *read_file_or_pipe(const char *path, size_t limit, size_t *size)
{
    if (read_file_is_standard(path)) return read_stream(stdin, limit, size);
    return read_and_close(fopen(path, "rb"), limit, size);
}
