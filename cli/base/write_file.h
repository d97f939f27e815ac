/* Writing a file whole or not at all.
 *
 * The text goes to a new file beside the target; only when all of it is on the disk does that file
 * take the target's name. A reader never sees half a file, and a failed run leaves the old one.
 * A device or pipe cannot be replaced, so there the text goes straight in; "-" is standard output.
 * A file that is replaced passes on its mode; one that this run reads is refused. What an
 * interrupted run has left beside the same target is cleared. */
#ifndef CLI_BASE_WRITE_FILE_H
#define CLI_BASE_WRITE_FILE_H

#include <stdbool.h>
#include <stdio.h>

typedef struct {
    FILE *stream;    /* write here */
    char *path;      /* the target */
    char *temporary; /* the file beside it, NULL when written direct */
    int place;       /* of the temporary among the leftovers */
    bool again;      /* can be made again: not waited for until it is on the disk */
} write_file;

/* On false the message is already out (path and reason), and nothing is left to close. */
bool write_file_open(write_file *file, const char *path);

/* Flushes, checks that no part of the answer was lost, renames. On false the message is out, the
 * target is as it was, and the file beside it is gone. Either way `file` is closed. */
bool write_file_close(write_file *file);

/* Gives up: the target is as it was. */
void write_file_drop(write_file *file);

/* Closes what is `good`, else gives up and says so. */
bool write_file_end(write_file *file, bool good);

/* The same, and says on standard output where `what` is, under the name it was opened with. */
bool write_file_end_at(write_file *file, bool good, const char *what, const char *path);

#endif
