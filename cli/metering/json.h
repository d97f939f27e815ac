/* Metering as JSON, for `coiltrim metering --json`. */
#ifndef CLI_METERING_JSON_H
#define CLI_METERING_JSON_H

#include <jansson.h>

#include "metering/facts.h"

/* The study as JSON; NULL: out of memory. */
json_t *metering_json(const metering_study *s, bool si);

#endif
