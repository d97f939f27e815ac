/* The facts of the explore page as the JSON that its script reads. */
#ifndef CLI_EXPLORE_DATA_H
#define CLI_EXPLORE_DATA_H

#include <jansson.h>

#include "explore/facts.h"

/* NULL: out of memory. */
json_t *explore_data(const explore_facts *f);

#endif
