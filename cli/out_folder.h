/* The folder of --output: made when missing; paths in it; what an earlier run left. On failure the
 * message is out. */
#ifndef OUT_FOLDER_H
#define OUT_FOLDER_H

#include <stdbool.h>

bool out_folder(const char *dir);

/* DIR/name.ending, to be freed by the caller; NULL when there is no memory. */
char *out_path(const char *dir, const char *name, const char *ending);

/* A file that is not there counts as removed. */
bool out_remove(const char *dir, const char *name, const char *ending);

#endif
