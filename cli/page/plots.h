/* Pictures of the job page: drawn by gnuplot as SVG, taken in as text, made safe to share a page.
 *
 * Small pictures with large type, to be read on a telephone and on a quarter of a printed sheet.
 * Blower taps are numbered, so no text of the job goes through gnuplot. */
#ifndef CLI_PAGE_PLOTS_H
#define CLI_PAGE_PLOTS_H

#include <stdbool.h>
#include <stdio.h>

#include "judge/pick.h"
#include "judge/sweep.h"
#include "study/meterstudy.h"

typedef enum {
    PICTURE_CAPACITY,
    PICTURE_TEMPERATURE,
    PICTURE_HUMIDITY,
    PICTURE_SUPERHEAT,
    PICTURE_COUNT
} page_picture;

enum { STUDY_POINTS = 13 };
typedef struct {
    const ct_sweep_job *at;
    const ct_sweep *sweep;
    const ct_pick *pick;
    bool metric;
    bool has_study, has_other; /* superheat against outdoors, and with the other metering device */
    ct_study_point own[STUDY_POINTS], other[STUDY_POINTS];
} picture_facts;

typedef struct {
    char *svg[PICTURE_COUNT]; /* gnuplot's text; NULL: none */
    char why[200];            /* when there is no picture at all */
    bool failed;              /* not for want of gnuplot, but for a fault */
} page_pictures;

/* File names of the pictures, beside the script that draws all of them. */
extern const char *const page_plot_file[PICTURE_COUNT];

/* False: errno says why. */
bool page_plots_write(const char *path, const picture_facts *facts);

/* Never fails as a whole: what cannot be drawn is left out, and `why` says so to the reader. */
void page_pictures_draw(const picture_facts *facts, page_pictures *out);
void page_pictures_free(page_pictures *pictures);

/* Copies the drawing of gnuplot's SVG into an HTML page: no declaration, no name spaces, ids made
 * the page's own by `prefix`, title and description for those who cannot see it. False when `svg`
 * is not what gnuplot draws; nothing is then written. */
bool svg_inline(FILE *out, const char *svg, const char *prefix, const char *title,
                const char *description);

#endif
