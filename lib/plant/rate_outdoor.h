/* Outdoor unit from its nameplate: the compressor's size and efficiency and the condenser's
 * conductance that give the rated capacity and power in the A test (95 F outdoors, 80/67 F indoors:
 * AHRI 210/240). SI. Internal. */
#ifndef CT_PLANT_RATE_OUTDOOR_H
#define CT_PLANT_RATE_OUTDOOR_H

#include "base/status.h"
#include "fluid/air.h"
#include "plant/plant.h"

/* Everything of the rating point that follows without a coil. */
typedef struct {
    double superheat_in;          /* K at the compressor */
    double T_suction;             /* K, saturated at the compressor, as given */
    double T_coil;                /* K, dew temperature at the coil outlet */
    double T_boil;                /* K, mean the air sees */
    double m;                     /* kg/s */
    double Q_gross, P_compressor; /* W */
    double h_out, h_g, h_liquid;  /* J/kg: coil outlet, dew, into the valve */
    ct_air air;
    double m_da;
} ct_rating_point;

/* Fills compressor and condenser of an outdoor unit that has its refrigerant and suction line, the
 * rating point for the coil, and what was found. CT_INPUT when the nameplate contradicts itself;
 * CT_RANGE from the tables. */
ct_status ct_rate_outdoor(const ct_outdoor_unit *, ct_outdoor *, ct_rating_point *,
                          ct_calibration *, ct_fault *);

#endif
