/* Gnuplot: text made safe for its scripts, and running it on a script.
 *
 * Text from a job file is data: it goes into single quotes, where gnuplot runs nothing (back quotes
 * run only inside double quotes), with apostrophes doubled and control characters out. The scripts
 * use `noenhanced`, so that _ ^ { } @ & stay what they are. */
#ifndef CLI_BASE_GNUPLOT_H
#define CLI_BASE_GNUPLOT_H

#include <stdio.h>

/* Writes `text` as a single-quoted gnuplot string, at most `max_characters` long (an ellipsis tells
 * of the cut); 0 means no limit. Bytes that are not UTF-8 come out as '?'. */
void gnuplot_quote(FILE *out, const char *text, int max_characters);

typedef enum {
    GNUPLOT_DONE,
    GNUPLOT_ABSENT, /* not installed: the script is there to be run later; not a failure */
    GNUPLOT_FAILED, /* it ran and complained; the message is out */
    GNUPLOT_ALONE   /* only of gnuplot_run_together: run each script alone */
} gnuplot_result;

/* Runs gnuplot on `script` (a path) with the variable `format` set to png, svg or pdf. No shell is
 * involved. What gnuplot says on standard error is reported. It has 60 s, or as many as the
 * environment variable COILTRIM_GNUPLOT_SECONDS says; then it is stopped, and that is reported. */
gnuplot_result gnuplot_run(const char *script, const char *format);

/* Several scripts in one process, which saves its start for each. GNUPLOT_ALONE, without a message:
 * something was not right, and each script run alone shows what. */
enum { GNUPLOT_SCRIPTS = 8 };
gnuplot_result gnuplot_run_together(const char *const *script, int n, const char *format);

/* The same as gnuplot_run, but GNUPLOT_ABSENT is not reported: for a caller that says it in its own
 * words. */
gnuplot_result gnuplot_try(const char *script, const char *format);

#endif
