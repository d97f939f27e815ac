/* What-if report for the terminal: how far each speed reaches, and what would change the pick. */
#ifndef CLI_WHATIF_TEXT_H
#define CLI_WHATIF_TEXT_H

#include "whatif/facts.h"

void whatif_text_print(const whatif_result *r);

#endif
