/* What-if as JSON: "speeds" and "changes_first". */
#ifndef CLI_WHATIF_JSON_H
#define CLI_WHATIF_JSON_H

#include "base/exit_codes.h"
#include "whatif/facts.h"

exit_code whatif_json_print(const whatif_result *r);

#endif
