/* Fit in words: what the geometry found, as lines a technician ticks off.
 *
 * The verb and the job page show the same lines. Sizes in inches, or mm when metric. Names come
 * from the case file: they are data, and a writer of markup escapes the whole line. */
#ifndef CLI_SHOW_FIT_WORDS_H
#define CLI_SHOW_FIT_WORDS_H

#include <stdbool.h>

#include "case/case.h"
#include "study/fit.h"

#define FIT_TEXT_SIZE 640
#define FIT_MAX_LINES (CT_MAX_OPENINGS + 8)

typedef enum {
    FIT_GOOD, /* holds */
    FIT_BAD,  /* does not hold: the line says what is missing */
    FIT_ASK   /* not known: the line says what to look up or to add */
} fit_mark;

typedef struct {
    fit_mark mark;
    const char *topic; /* "way_in", "space", "service", "filter", "condensate", "cabinet" */
    char text[FIT_TEXT_SIZE];
} fit_line;

typedef struct {
    bool judged;          /* the cabinet and at least a way in or a space are stated */
    ct_fit_report report; /* set when judged */
} fit_answer;

/* Judges one unit of the case. Fails only for a case that no reader has checked. */
ct_status fit_judge(const ct_case *c, int unit, fit_answer *a, ct_fault *fault);

/* "fits", "fits only tilted", "fits only in 2 sections", "does not fit", and where it is tightest;
 * "not judged" when it is not. */
void fit_headline(const ct_case *c, int unit, const fit_answer *a, bool metric,
                  char text[FIT_TEXT_SIZE]);

/* The cabinet's sizes; "" when not stated. */
void fit_cabinet_text(const ct_cabinet *cabinet, bool metric, char text[FIT_TEXT_SIZE]);

/* How to hold it: "standing, narrow end first, rolled 12 degrees". box: width, depth, height. */
void fit_way_text(const ct_passage *way, ct_opening_kind kind, const double box[3],
                  char text[FIT_TEXT_SIZE]);

/* The checklist, in the order of the work. Returns the number of lines. */
int fit_checklist(const ct_case *c, int unit, const fit_answer *a, bool metric,
                  fit_line line[FIT_MAX_LINES]);

const char *fit_kind_word(ct_opening_kind kind);       /* "door" */
const char *fit_edge_word(ct_edge edge);               /* "width" */
const char *fit_mark_word(fit_mark mark);              /* "ok", "no", "ask" */
const char *fit_tightest(const ct_case *c, int where); /* name of an opening, "the space" */

#endif
