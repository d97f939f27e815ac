/* Season report for the terminal. */
#ifndef CLI_SEASON_TEXT_H
#define CLI_SEASON_TEXT_H

#include "season/facts.h"

void season_text_print(const season_result *r);

#endif
