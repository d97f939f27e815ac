/* Balance: where compressor, condenser and coil settle together.
 *
 * Give it the system, the air in and out of doors and the airflow; it gives the saturated suction
 * and discharge at which the coil takes up what the compressor moves and the condenser sheds both,
 * and everything that follows: leaving air, capacities gross and net, water, power, pressures.
 *
 * Unknowns: saturated suction Te (outer), saturated discharge Tc (inner), and with an orifice the
 * superheat that makes its flow the compressor's. Without a start the search begins near where a
 * rough coil balances (plant/balance_guess.h); a piston's from a neighbor finds its unknowns
 * together (plant/balance_together.h). Both loops walk along secants, bent through three
 * points, and close in with bracketed Brent (GSL) where that does not get there. Residuals are
 * scaled by the heat flows; a result is a balance only when both are below CT_BALANCE_TOL, so
 * energy closes to that and the answer does not depend on where the search began. In hot or cold
 * extremes a band of suctions cannot be worked out, and beyond it there may be a second balance:
 * where the search meets such a band, or ends without an answer, the suctions are gone through from
 * the air's temperature down (plant/balance_scan.h), and the balance is the first one, which a
 * system started at rest reaches. A piston's coil whose vapor leaves within 0.02 K of its air is
 * starved, and one that next to nothing boils in is flooded. Left over: in 6 of 100 000 random
 * states the start decides (tests/test_any_start.c): two with a valve in air above 77 F dew point,
 * four with a piston, near starving or, in two, a ten-millionth of a kelvin apart.
 *
 * Conventions. Heat of the refrigerant side Q is the coil's total: the water leaves with its own
 * enthalpy at the surface temperature (about 0.5 % of Q). Gross is at the coil; net has the
 * blower's watts taken off total and sensible. Not modeled: condenser blockage, frost
 * growth. SI. A solver holds the workspace of one search and nothing else; one per thread.
 * Public. */
#ifndef CT_PLANT_BALANCE_H
#define CT_PLANT_BALANCE_H

#include "base/status.h"
#include "plant/balance_answer.h"
#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct ct_solver ct_solver;
CT_API ct_status ct_solver_make(ct_solver **, ct_fault *);
CT_API void ct_solver_free(ct_solver *);

/* CT_OK: out->outcome is CT_BALANCED. CT_NO_ROOT, CT_NO_CONV or CT_RANGE: out->outcome says why
 * and the fault words it; the other fields of *out are then not a balance and must not be used. */
CT_API ct_status ct_balance_solve(ct_solver *, const ct_system *, const ct_conditions *,
                                  const ct_start *, ct_balance *out, ct_fault *);

/* Of a piston's system without a charge: the balance with this superheat, K, > 0, found over the
 * subcooling of `sys`, which is moved to it, from a neighboring balance. False: that does not lead
 * there, and *out is nothing. Internal. */
bool ct_balance_with_superheat(ct_solver *, ct_system *sys, const ct_conditions *, double superheat,
                               const ct_start *, ct_balance *out);

/* Te 233.5 K up to the entering air. Fails as ct_balance_solve does when the high side has no
 * solution at this Te; *out is then untouched. The residual of the balance is Q_coil - Q_unit over
 * the boiling part of Q_unit. */
CT_API ct_status ct_balance_try(ct_solver *, const ct_system *, const ct_conditions *, double Te,
                                ct_balance_trial *out, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
