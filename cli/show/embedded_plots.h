/* The templates of plots/, compiled in; the build makes embedded_plots.c (plots/embed_plots.cmake).
 */
#ifndef CLI_SHOW_EMBEDDED_PLOTS_H
#define CLI_SHOW_EMBEDDED_PLOTS_H

#include <stddef.h>

typedef struct {
    const char *name; /* "capacity" */
    const unsigned char *text;
    size_t size;
} embedded_plot;

extern const embedded_plot embedded_plots[]; /* ends with a NULL name */

#endif
