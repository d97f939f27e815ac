/* What a season comes to at one speed: one list behind season.csv and the JSON. */
#ifndef CLI_SEASON_COLUMNS_H
#define CLI_SEASON_COLUMNS_H

#include "season/facts.h"
#include "show/quantity.h"

typedef struct {
    const char *name;
    quantity q;
} season_column;

enum { SEASON_COLUMNS = 19 };
extern const season_column season_columns[SEASON_COLUMNS];

/* NaN: absent. */
double season_column_value(const season_result *r, const season_speed *s, int column);

#endif
