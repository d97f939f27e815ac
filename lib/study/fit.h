/* Fit: does the cabinet go in, and is there room around it for service?
 *
 * Give it the cabinet, the narrow places on the way in, and the place where it is to stand. It
 * tries every way of holding the box at every opening - square, turned, tipped, taken apart - and
 * finds which way leaves most room, how much, and which place stops it. Margins in m: the smallest
 * slack, negative by what is missing. Angles in rad. Pure functions, nothing is allocated.
 *
 * What is assumed, always on the safe side (a box reported as fitting does fit; an acrobatic way
 * may be missed): the box is rigid and rectangular; it turns about one axis at a time; nothing is
 * taken off for hands, straps and padding, so judge the margin. At a door the box travels straight
 * along one of its own edges, so the thickness of the wall does not matter. Public. */
#ifndef CT_STUDY_FIT_H
#define CT_STUDY_FIT_H

#include <stdbool.h>

#include "base/status.h"
#include "case/case.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_FIT_SPACE (-1) /* index standing for the final place instead of an opening */
#define CT_FIT_FALL                                                                                \
    (1.0 /                                                                                         \
     96.0) /* m/m, drain line: 1/8 in per ft; common practice, and the usual                 \
                    plumbing-code minimum (from memory, unconfirmed) */

typedef enum { CT_EDGE_WIDTH, CT_EDGE_DEPTH, CT_EDGE_HEIGHT } ct_edge;

typedef enum {
    CT_WAY_SQUARE, /* edges along the opening's edges */
    CT_WAY_ROLLED, /* door, hatch: turned by `angle` about the direction of travel */
    CT_WAY_TIPPED  /* corner: leading end raised by `angle`; hatch: leaned `angle` from the vertical
                      where it is tightest */
} ct_way;

/* The best way through one opening, or the nearest miss. */
typedef struct {
    bool fits;
    ct_way way;
    double angle;   /* rad, 0 to pi/2 */
    double margin;  /* m */
    ct_edge lead;   /* the cabinet's edge that points along the travel (hatch: upwards) */
    ct_edge across; /* the edge along the opening's width (corner: level across the corridor) */
    ct_edge up;     /* the third: door: along its height, hatch: its length, corner: upright */
    bool sidestep;  /* corner: passed without swinging, by changing from forwards to sideways */
} ct_passage;

typedef struct {
    bool fits, upright;
    bool turned;       /* the unit's front looks along the space's width, not its depth */
    double margin[3];  /* m along the space's width, depth, height, clearances kept */
    double smallest;   /* m, the least of the three */
    double front_free; /* m free before the unit's front, its clearance included */
} ct_placement;

typedef enum { CT_FIT_SQUARE, CT_FIT_TILTED, CT_FIT_SECTIONS, CT_FIT_NO } ct_fit_verdict;

typedef struct {
    ct_fit_verdict verdict;
    double margin; /* m, smallest of all, carried the way the verdict says */
    int tightest;  /* where: index of the opening, or CT_FIT_SPACE */
    ct_passage whole[CT_MAX_OPENINGS];
    ct_passage piece[CT_MAX_OPENINGS]; /* its largest section; set when it has more than one */
    ct_placement place;                /* set when the space is stated */
    bool has_drain, drain_ok;
    double fall_needed, fall_free; /* m */
    bool has_filter, filter_ok;    /* can the filter be drawn out of the front */
} ct_fit_report;

/* The whole question. n openings, 0 to CT_MAX_OPENINGS; space->has says whether the place is
 * stated. Fails: CT_INPUT when a size is missing, not positive or not finite, sections contradict
 * the height, or there is nothing to judge (no opening and no space). *report is then untouched. */
CT_API ct_status ct_fit(const ct_cabinet *, const ct_opening *openings, int n, const ct_space *,
                        ct_fit_report *, ct_fault *);

/* One box (m; width, depth, height) through one opening. Fails with CT_INPUT on the opening's
 * sizes. For host programs. */
CT_API ct_status ct_fit_passage(const double box[3], const ct_opening *, ct_passage *, ct_fault *);

/* Rectangle p x q through a rectangle a x b in the plane, all > 0: the slack, below 0 when it does
 * not pass. It is the largest over the rotation, *angle in 0..pi/2, of the smaller slack
 *   min(a - p cos - q sin, b - p sin - q cos),
 * exact (both are convex, so the best is at an end or where they are equal). Its sign is that of
 * Carver 1957, Solution to Problem E 1225, Amer. Math. Monthly 64. */
CT_API double ct_fit_rectangle_margin(double p, double q, double a, double b, double *angle);

/* Width, m, of the widest rectangle of length l that swings round a right-angle corner of corridors
 * a and b: the least over theta of a sin + b cos - l sin cos, the ladder problem of the calculus
 * books with a thick ladder (for width 0 the longest is (a^(2/3) + b^(2/3))^(3/2)). Negative: none.
 */
CT_API double ct_fit_corner_width(double l, double a, double b);

/* Lowest roof, m, over a hatch of side a (framed shaft of depth `frame` under it) that lets a box
 * of length l and thickness t <= a in if it leans as it rises: the largest over the lean of l cos +
 * t sin - s,   s: the part of its foot still below the edge which the shaft lets through, s = a sin
 * cos where the foot alone is in the hatch. Plane geometry, derived here; conservative: level roof,
 * room to swing beside the hatch and to stand the box under it. *angle: lean at the tightest. */
CT_API double ct_fit_hatch_headroom(double l, double t, double a, double frame, double *angle);

#ifdef __cplusplus
}
#endif
#endif
