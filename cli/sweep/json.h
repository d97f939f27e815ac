/* Sweep as JSON: the whole result for programs. Key names end in their unit, SI with --si:
 *
 *   case        what was given: site, house, outdoor unit, indoor unit, limits
 *   assumed     what was not given, and where the assumption comes from
 *   calibration what the nameplate implies
 *   points, taps the columns of the CSV files and, under "limits", each judgment
 *   pick        which, why not lower, and the reverse questions; or what fails and would fix it
 *   uncertain   with --uncertain: spread and shares of each tap and airflow */
#ifndef CLI_SWEEP_JSON_H
#define CLI_SWEEP_JSON_H

#include "base/exit_codes.h"
#include "sweep/facts.h"

exit_code sweep_json_print(FILE *out, const sweep_result *r);

#endif
