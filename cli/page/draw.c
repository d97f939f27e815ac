#include "page/plots.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/gnuplot.h"
#include "base/read_file.h"
#include "page/scratch.h"

enum { PICTURE_BYTES = 16 * 1024 * 1024 }; /* far more than any picture of a page */

/* NULL when it is not there or holds a NUL. */
static char *read_svg(const char *path)
{
    size_t size;
    char *text = read_file(path, PICTURE_BYTES, &size);
    if (!text && errno == ENOMEM) complain_incomplete();
    if (!text || strlen(text) == size) return text;
    free(text);
    return NULL;
}

/* gnuplot can say that all went well and leave nothing, or half of it on a full disk. */
static char *read_picture(const char *path, bool wanted, page_pictures *out)
{
    char *svg = read_svg(path);
    if (!wanted || (svg && strstr(svg, "</svg>"))) return svg;
    if (!out->why[0])
        complain(
            "%s: gnuplot left no whole picture; is there room on the disk? The page is without "
            "it",
            path);
    strcpy(out->why, "gnuplot drew nothing where this page was made");
    out->failed = true;
    free(svg);
    return NULL;
}

static void say_why(gnuplot_result result, page_pictures *out)
{
    if (result == GNUPLOT_ABSENT)
        strcpy(out->why, "gnuplot is not installed where this page was made");
    else if (result == GNUPLOT_FAILED)
        strcpy(out->why, "gnuplot failed where this page was made");
    out->failed = result == GNUPLOT_FAILED;
}

static void draw_in(const scratch *in, const picture_facts *facts, page_pictures *out)
{
    char path[SCRATCH_PATH];
    gnuplot_result result = GNUPLOT_FAILED;
    scratch_path(in, SCRATCH_SCRIPT, path);
    if (!page_plots_write(path, facts))
        complain("%s: cannot be written: %s", path, strerror(errno));
    else
        result = gnuplot_try(path, "svg");
    say_why(result, out);
    for (int i = 0; i < PICTURE_COUNT && result == GNUPLOT_DONE; i++) {
        scratch_path(in, i, path);
        out->svg[i] = read_picture(path, i != PICTURE_SUPERHEAT || facts->has_study, out);
    }
}

void page_pictures_draw(const picture_facts *facts, page_pictures *out)
{
    scratch in;
    *out = (page_pictures){0};
    if (!scratch_open(&in)) {
        strcpy(out->why, "a temporary folder could not be made where this page was made");
        out->failed = true;
        return;
    }
    draw_in(&in, facts, out);
    scratch_close(&in);
}

void page_pictures_free(page_pictures *pictures)
{
    for (int i = 0; i < PICTURE_COUNT; i++)
        free(pictures->svg[i]);
    *pictures = (page_pictures){0};
}
