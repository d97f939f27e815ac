/* Close call: is the pick the pick when every input is off by its usual doubt?
 *
 * One step of one standard deviation for each uncertain input (vary.h), each on the pick and the
 * next slower speed alone: the slopes of each limit's slack. Doubts that are independent add as
 * squares (first order, JCGM 100:2008, equation 10). A pick among airflows, without taps, lies at
 * an edge by its nature: of it only how close it is counts. For chances, run uncertain.h. SI.
 * Public. */
#ifndef CT_STUDY_CLOSE_CALL_H
#define CT_STUDY_CLOSE_CALL_H

#include "base/status.h"
#include "judge/pick.h"
#include "study/vary.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    bool has;
    ct_limit limit; /* nearest to its bound, counted in its own doubts */
    double slack;   /* of that limit, SI */
    double doubt;   /* one standard deviation of the slack */
} ct_nearness;

typedef struct {
    bool close;        /* the pick keeps a limit by less than its doubt */
    ct_nearness pick;  /* the limit it keeps by least */
    bool tie;          /* the next slower fails by less than its doubt, and does not flood */
    ct_nearness lower; /* the limit it fails by most */
    bool moves
        [CT_VARY_COUNT]; /* this input alone, off by its usual doubt, makes the pick fail a limit
                                  or the next slower pass them all */
} ct_close_call;

/* For a pick that was found on the setup's sweep. Inputs whose step cannot be are left out.
 * CT_SYSTEM: out of memory. */
CT_API ct_status ct_close_call_run(const ct_setup *, const ct_sweep *, const ct_pick *,
                                   ct_close_call *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
