/* The explore page as one HTML file: what the build embeds, and the case's data between. */
#ifndef CLI_EXPLORE_PAGE_H
#define CLI_EXPLORE_PAGE_H

#include <stdbool.h>
#include <stdio.h>

#include "explore/facts.h"

/* False: out of memory, or the stream failed (ferror). */
bool explore_page_write(FILE *out, const explore_facts *f);

#endif
