/* What make_tables links in place of the tables it makes. */
#include "fluid/water_tables.h"

const double ct_made_water[CT_WATER_PIECES][CT_WATER_TERMS] = {{0.0}};
