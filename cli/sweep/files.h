/* Sweep files: what `coiltrim sweep -o DIR` leaves in DIR.
 *
 * sweep.csv, taps.csv when blower and ducts are known, the same with _uncertain when a spread was
 * asked for, and a gnuplot script for each picture. CSV
 * and scripts are written beside and renamed. What an earlier run left under the same names is
 * replaced or removed, pictures too, so that nothing in DIR belongs to another case. */
#ifndef CLI_SWEEP_FILES_H
#define CLI_SWEEP_FILES_H

#include "base/exit_codes.h"
#include "sweep/columns.h"
#include "sweep/uncertain.h"

typedef struct {
    const char *dir;
    const char *title;  /* of the job */
    const char *format; /* "png", "svg" or "pdf" */
    bool si;
    bool render;                     /* run gnuplot */
    const uncertain_view *uncertain; /* NULL: not asked for */
    const sweep_view *low;           /* the low stage; NULL: one stage */
} sweep_files;

/* On failure the message is out. A missing gnuplot is reported, but no failure. */
exit_code sweep_files_write(const sweep_files *files, const sweep_view *view);

#endif
