/* Units: the one place where inch-pound and metric turn into SI and back.
 *
 * All factors are exact definitions (international inch and pound, Btu(IT), conventional inch of
 * water) whose source is in units.c. Inside the library everything is SI; only readers, writers
 * and the AHRI 540 map (which is defined in F and lbm/h) convert. Public. */
#ifndef CT_BASE_UNITS_H
#define CT_BASE_UNITS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_UNIT_NONE,            /* bare number: "0.75", "2", also "75 %" */
    CT_UNIT_TEMPERATURE,     /* F C K */
    CT_UNIT_DELTA_T,         /* F C K, a difference */
    CT_UNIT_POWER,           /* W kW Btu/h kBtu/h ton hp */
    CT_UNIT_TONS,            /* ton kW Btu/h -> nominal tons (dimensionless count) */
    CT_UNIT_EER,             /* Btu/Wh, W/W -> W/W */
    CT_UNIT_AIRFLOW,         /* cfm m3/s m3/h L/s */
    CT_UNIT_AIRFLOW_PER_TON, /* cfm/ton, m3/h/kW ... -> m3/s per nominal ton */
    CT_UNIT_PRESSURE,        /* Pa kPa bar inwc psi psia; static pressures, drops */
    CT_UNIT_PRESSURE_GAUGE, /* psig (psi) barg kPag -> Pa above barometric, which the caller adds */
    CT_UNIT_LENGTH,         /* in ft mm cm m */
    CT_UNIT_AREA,           /* ft2 in2 m2 */
    CT_UNIT_VELOCITY,       /* fpm ft/min m/s */
    CT_UNIT_FRACTION,       /* % or bare fraction */
    CT_UNIT_TIME,           /* s min h */
    CT_UNIT_R_VALUE,        /* h.ft2.F/Btu written "R-6" or "6 R"; m2K/W */
    CT_UNIT_CONDUCTIVITY,   /* W/mK, Btu/h.ft.F */
    CT_UNIT_FIN_DENSITY,    /* fins/in, fins/m, or a pitch in mm -> pitch in m */
    CT_UNIT_CURRENT,        /* A */
    CT_UNIT_VOLTAGE,        /* V */
    CT_UNIT_WATER,          /* lb kg g pint qt gal L mL of liquid water -> kg */
    CT_UNIT_VOLUME          /* in3 ft3 L cm3 m3 */
} ct_unit_kind;

#define CT_F_PER_K 1.8
#define CT_ZERO_C 273.15           /* 0 C in K */
#define CT_ZERO_F 459.67           /* 0 F in degrees of Fahrenheit's size above absolute zero */
#define CT_J_PER_BTU 1055.05585262 /* Btu(IT) */
#define CT_W_PER_BTUH (CT_J_PER_BTU / 3600.0)
#define CT_W_PER_TON (12000.0 * CT_W_PER_BTUH)
#define CT_M3S_PER_CFM 4.719474432e-4
#define CT_PA_PER_INWC 249.08891
#define CT_PA_PER_PSI 6894.757293168361
#define CT_KG_PER_LBM 0.45359237
#define CT_M3_PER_GALLON 3.785411784e-3
#define CT_JKG_PER_BTULB 2326.0 /* Btu(IT) per pound */
#define CT_GRAINS_PER_LB 7000.0
#define CT_M_PER_IN 0.0254
#define CT_M_PER_FT 0.3048
#define CT_M3_PER_FT3 (CT_M_PER_FT * CT_M_PER_FT * CT_M_PER_FT)
#define CT_ATM_PA 101325.0

CT_API double ct_K_from_F(double F);
CT_API double ct_F_from_K(double K);

/* Reads "number unit" (the unit may touch the number; letter case matters only where it must; the
 * decimal sign is '.', in every locale; no hex, inf or nan) as `kind` into SI. Also as people write
 * it: "36,000 Btu/h", "3-ton", "22-1/2\"", "1'10\"", "$1,850", "75 deg F"; and without a unit where
 * only one can be meant: 10 as an efficiency, 3 as a nominal size, 350 as an airflow per ton.
 * CT_INPUT says what was wrong and which units are allowed, or asks where there are two readings,
 * as in "3,500 kW". */
CT_API ct_status ct_units_read(const char *text, ct_unit_kind kind, double *si, ct_fault *fault);

/* The same, and names the unit that was written, as ct_units_allowed spells it ("" for none). */
CT_API ct_status ct_units_read_as(const char *text, ct_unit_kind kind, double *si,
                                  const char **unit, ct_fault *fault);

/* SI to the unit named, any spelling ct_units_read takes. False: not a unit of this kind. */
CT_API bool ct_units_to(double si, ct_unit_kind kind, const char *unit, double *value);

/* What goes between a number and its unit: a blank; nothing before '%' or where there is none. */
CT_API const char *ct_units_gap(const char *unit);

/* Units allowed for a kind, "F, C, K", for messages and help. */
CT_API const char *ct_units_allowed(ct_unit_kind kind);

#ifdef __cplusplus
}
#endif
#endif
