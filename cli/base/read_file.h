/* Reading a file whole; "-" is standard input, never a file of that name. */
#ifndef CLI_BASE_READ_FILE_H
#define CLI_BASE_READ_FILE_H

#include <stdbool.h>
#include <stddef.h>

/* The largest case file, and one more byte, so that the reader sees that there is more. */
#define READ_FILE_CASE ((size_t)1024 * 1024 + 1)

/* At most `limit` bytes, ended by a NUL, to be freed. Only regular files: a device or a pipe could
 * go on for ever. NULL: read_file_reason() says why. */
char *read_file(const char *path, size_t limit, size_t *size);

/* The same from a pipe or a device too, as `<(command)` of a shell makes them: for the one file a
 * run is about. */
char *read_file_or_pipe(const char *path, size_t limit, size_t *size);

/* Why read_file has just failed, in words. */
const char *read_file_reason(void);

bool read_file_is_standard(const char *path);

#endif
