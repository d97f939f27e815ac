/* Season as JSON: "weather", "speeds". */
#ifndef CLI_SEASON_JSON_H
#define CLI_SEASON_JSON_H

#include "base/exit_codes.h"
#include "season/facts.h"

exit_code season_json_print(const season_result *r);

#endif
