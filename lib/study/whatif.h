/* What if: how far each speed reaches, and what would change the answer first.
 *
 * For each speed: the largest load it carries on the design day, and the hottest day on which it
 * still carries the load that day brings. For each uncertain input: how far it would have to be
 * off, all else as written, until another speed is the pick; an input that needs only half its
 * standard deviation for that deserves another look before the job is done. SI. Public. */
#ifndef CT_STUDY_WHATIF_H
#define CT_STUDY_WHATIF_H

#include "base/status.h"
#include "judge/pick.h"
#include "judge/sweep.h"
#include "study/vary.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Standard deviations looked at to either side. */
#define CT_WHATIF_REACH 4.0

typedef struct {
    ct_status hot_status; /* of T_hottest */
    double T_hottest;     /* K, NaN unless CT_OK */
    double Q_load_max;    /* W, largest design sensible load, the margin kept; 0 unsettled */
    char why[200];        /* when there is no hottest day */
} ct_reach;

/* Reach of one point of a sweep. */
CT_API void ct_whatif_reach(ct_solver *, const ct_sweep_job *, const ct_point *, ct_reach *);

typedef struct {
    ct_vary_input input;
    double sigma;            /* standard deviation, in the input's unit */
    bool changes;            /* within CT_WHATIF_REACH standard deviations */
    double change;           /* smallest step of the input that moves the pick, its unit */
    double sigmas;           /* |change| over sigma */
    int to;                  /* the pick then: index among the speeds, -1 for none */
    bool ends_up, ends_down; /* that way the case became impossible before the reach was run out,
                                at `up` or `down` standard deviations */
    bool cut;                /* the work allowed for a search ran out: looked at only as far as `up`
                                and `down` */
    double up, down;
} ct_tipping;

typedef struct {
    bool from_taps;
    int pick;                          /* index among the speeds of the sweep, -1 for none */
    int n;                             /* inputs with a standard deviation above 0 */
    ct_tipping tipping[CT_VARY_COUNT]; /* by rising `sigmas`; those that do not change it last */
} ct_whatif;

/* Halved down to a grid of a quarter of the standard deviation and closed in on to a thousandth of
 * it. A stretch at whose ends the pick is the same, and each slower speed fails on a limit it fails
 * at both, is not halved; a pick that flips and flips back within one, or between two grid points,
 * is not seen. The work is bounded (`cut`): a sweep of more than about a hundred airflows is not
 * looked at as far as CT_WHATIF_REACH. nominal as in ct_uncertain_run. CT_RANGE from the standard
 * deviations. */
CT_API ct_status ct_whatif_run(const ct_setup *, const ct_sweep *nominal, ct_whatif *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
