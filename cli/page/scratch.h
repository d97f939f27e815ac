/* The page's temporary folder: a script and the pictures gnuplot makes of it.
 *
 * Each has a lock as long as its run lives. A run that was ended by force leaves its folder behind;
 * the next run finds it without a lock and clears it away. Only files of the names below are
 * removed, and only from folders of the same user: anything else keeps its folder. */
#ifndef CLI_PAGE_SCRATCH_H
#define CLI_PAGE_SCRATCH_H

#include <stdbool.h>

#include "page/plots.h"

enum { SCRATCH_SCRIPT = PICTURE_COUNT, SCRATCH_FILES, SCRATCH_PATH = 512 };

typedef struct {
    char folder[400];
    int lock;
    int left[SCRATCH_FILES + 1]; /* for a signal to clear */
} scratch;

/* False: no folder could be made. */
bool scratch_open(scratch *);
void scratch_close(scratch *); /* with all in it */

/* Of picture 0 to PICTURE_COUNT - 1, or of the script. */
void scratch_path(const scratch *, int file, char path[SCRATCH_PATH]);

#endif
