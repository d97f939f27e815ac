/* Files of a season: season.csv, a row for each speed; season_hours.csv, a row for each hour or
 * bin; season_duration.csv; the plot script season_rh.gp and its picture. */
#ifndef CLI_SEASON_FILES_H
#define CLI_SEASON_FILES_H

#include "base/out_folder.h"
#include "season/facts.h"

exit_code season_files_write(const out_request *to, const season_result *r);

#endif
