/* Readings as they come: saturation temperatures for pressures, superheat and subcooling for line
 * temperatures, the split for the supply air, amps and volts for watts, the rise with electric heat
 * for the airflow, water and time for the condensate. Turned into the readings they mean, with the
 * doubt they were given with. Internal. */
#ifndef CT_STUDY_VISIT_DERIVE_H
#define CT_STUDY_VISIT_DERIVE_H

#include "case/readings.h"
#include "fluid/refrigerant.h"

/* What each is turned into; CT_READING_COUNT for one that is as it is. */
ct_reading_kind ct_visit_derive_for(ct_reading_kind);

/* Fills what is missing in *readings, p Pa barometric. CT_INPUT where the third reading that is
 * needed is not there; CT_RANGE from the refrigerant's tables. */
ct_status ct_visit_derive(const ct_refrigerant *, double p, ct_readings *readings, ct_fault *);

#endif
