#include "case/keys.h"

#include "case/case.h"
#include "case/key_rows.h"

static const ct_key rows[] = {
    {.path = "season",
     SECTION(offsetof(ct_case, season)),
     ALWAYS,
     HELP("for the verb season: price, household, how the house holds water")},
    {.path = "season.price",
     NUMBER(MAYBE, "0.15"),
     FROM("0", "100"),
     OPTIONAL,
     AT(ct_season_spec, price),
     HELP("price of a kWh, in your own currency")},
    {.path = "season.latent_load",
     POWER(MAYBE, "1500 Btu/h"),
     FROM("0 Btu/h", "120000 Btu/h"),
     OPTIONAL,
     AT(ct_season_spec, Q_latent),
     HELP("moisture of the household on the average hour; house.latent_load when left out")},
    {.path = "season.floor_area",
     AREA(MAYBE, "1500 ft2"),
     FROM("100 ft2", "50000 ft2"),
     OPTIONAL,
     AT(ct_season_spec, A_floor),
     HELP("floor it cools, ceilings 8 ft high; else house.floor_area, or 500 ft2 for each ton")},
    {.path = "season.moisture_storage",
     NUMBER(NUMBER, "15"),
     FROM("1", "100"),
     DERIVED("15", "walls and furniture beside the air; from memory, unconfirmed"),
     AT(ct_season_spec, storage),
     HELP("water the house takes up with its humidity, over what its air alone would")},
    {.path = "season.load_hours",
     NUMBER(NUMBER, "1000"),
     FROM("50", "5000"),
     DERIVED("1000", "the rating procedure's national average; from memory, unconfirmed"),
     AT(ct_season_spec, load_hours),
     HELP("hours at the whole design load that the rating standard's bins stand for")},
};

const ct_key_rows ct_keys_season = {rows, (int)(sizeof rows / sizeof rows[0])};
