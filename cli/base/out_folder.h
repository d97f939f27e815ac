/* The folder of --output: made when missing; paths in it; what an earlier run left. On failure the
 * message is out. */
#ifndef CLI_BASE_OUT_FOLDER_H
#define CLI_BASE_OUT_FOLDER_H

#include <stdbool.h>

#include "base/exit_codes.h"
#include "base/write_file.h"

/* What was asked for with --output. */
typedef struct {
    const char *dir;
    const char *format; /* of pictures: "png", "svg" or "pdf" */
    bool si;            /* CSV files in SI, pictures metric */
    bool render;        /* run gnuplot on the scripts */
} out_request;

bool out_folder(const char *dir);

/* Before the work is done: could it be written to? Leaves everything as it is. */
bool out_folder_possible(const char *dir);

/* DIR/name.ending, to be freed by the caller; NULL when there is no memory. */
char *out_path(const char *dir, const char *name, const char *ending);

/* A file that is not there counts as removed. */
bool out_remove(const char *dir, const char *name, const char *ending);

/* Opens DIR/name.ending for writing. */
bool out_open(write_file *file, const char *dir, const char *name, const char *ending);

/* Removes the picture DIR/name in every format: an earlier run's would show other numbers. */
bool out_remove_pictures(const char *dir, const char *name);

/* Draws DIR/name.gp in `format` when *render is set. Where gnuplot is missing that is reported, is
 * no failure, and *render is off from then on; a picture that failed is removed. */
exit_code out_draw(const char *dir, const char *name, const char *format, bool *render);

/* The same for all scripts of a list. */
enum { OUT_SCRIPTS = 8 };
typedef struct {
    const char *name[OUT_SCRIPTS];
    int n;
} out_scripts;
void out_scripts_add(out_scripts *, const char *name);
exit_code out_draw_all(const char *dir, const out_scripts *, const char *format, bool render);

#endif
