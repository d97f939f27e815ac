/* Units shown: every unit a value is printed in, once.
 *
 * A row is the name for people, the ending of a key for programs, and shown = SI * factor + offset.
 * The tables of quantity.c and sheet.c choose from these rows and add decimals. */
#ifndef CLI_SHOW_UNITS_SHOWN_H
#define CLI_SHOW_UNITS_SHOWN_H

#include "base/units.h"
#include "fluid/air.h"

/* clang-format off */
#define UNIT_NONE         "", "", 1, 0
#define UNIT_PERCENT      "%", "", 100, 0
#define UNIT_F            "F", "f", CT_F_PER_K, -CT_ZERO_F
#define UNIT_C            "C", "c", 1, -CT_ZERO_C
#define UNIT_K            "K", "k", 1, 0
#define UNIT_DELTA_F      "F", "f", CT_F_PER_K, 0
#define UNIT_BTUH         "Btu/h", "btuh", (1 / CT_W_PER_BTUH), 0
#define UNIT_KW           "kW", "kw", 1e-3, 0
#define UNIT_W            "W", "w", 1, 0
#define UNIT_WATTS        "W", "watts", 1, 0
#define UNIT_BTU_WH       "Btu/Wh", "btu_per_wh", (1 / CT_W_PER_BTUH), 0
#define UNIT_W_W          "W/W", "w_per_w", 1, 0
#define UNIT_PSI          "psi", "psi", (1 / CT_PA_PER_PSI), 0
#define UNIT_PSIA         "psia", "psia", (1 / CT_PA_PER_PSI), 0
#define UNIT_PSIG         "psig", "psig", (1 / CT_PA_PER_PSI), 0
#define UNIT_KPA          "kPa", "kpa", 1e-3, 0
#define UNIT_KPA_ABSOLUTE "kPa absolute", "kpa", 1e-3, 0
#define UNIT_KPA_GAUGE    "kPa gauge", "gauge_kpa", 1e-3, 0
#define UNIT_PA           "Pa", "pa", 1, 0
#define UNIT_PA_GAUGE     "Pa gauge", "gauge_pa", 1, 0
#define UNIT_INWC         "inwc", "inwc", (1 / CT_PA_PER_INWC), 0
#define UNIT_CFM          "cfm", "cfm", (1 / CT_M3S_PER_CFM), 0
#define UNIT_L_S          "L/s", "l_per_s", 1e3, 0
#define UNIT_M3_S         "m3/s", "m3_per_s", 1, 0
#define UNIT_FT3_H        "ft3/h", "ft3_per_h", (3600 / CT_M3_PER_FT3), 0
#define UNIT_CFM_TON      "cfm/ton", "cfm_per_ton", (1 / CT_M3S_PER_CFM), 0
#define UNIT_L_S_TON      "L/s per ton", "l_per_s_per_ton", 1e3, 0
#define UNIT_M3_S_TON     "m3/s per ton", "m3_per_s_per_ton", 1, 0
#define UNIT_FT_MIN       "ft/min", "fpm", (60 / CT_M_PER_FT), 0
#define UNIT_M_S          "m/s", "m_per_s", 1, 0
#define UNIT_FT           "ft", "ft", (1 / CT_M_PER_FT), 0
#define UNIT_IN           "in", "in", (1 / CT_M_PER_IN), 0
#define UNIT_M            "m", "m", 1, 0
#define UNIT_MM           "mm", "mm", 1e3, 0
#define UNIT_DEGREE       "degrees", "deg", (180.0 / 3.14159265358979323846), 0
#define UNIT_RAD          "rad", "rad", 1, 0
#define UNIT_GR_LB        "gr/lb", "gr_per_lb", CT_GRAINS_PER_LB, 0
#define UNIT_LB_LB        "lb/lb", "lb_per_lb", 1, 0
#define UNIT_G_KG         "g/kg", "g_per_kg", 1e3, 0
#define UNIT_KG_KG        "kg/kg", "kg_per_kg", 1, 0
#define UNIT_LB_H         "lb/h", "lb_per_h", (3600 / CT_KG_PER_LBM), 0
#define UNIT_KG_H         "kg/h", "kg_per_h", 3600, 0
#define UNIT_KG_S         "kg/s", "kg_per_s", 1, 0
#define UNIT_G_S          "g/s", "g_per_s", 1e3, 0
#define UNIT_LB_DAY       "lb/day", "lb_per_day", (1 / CT_KG_PER_LBM), 0
#define UNIT_KG_DAY       "kg/day", "kg_per_day", 1, 0
#define UNIT_MIN_H        "min/h", "min_per_h", 60, 0
#define UNIT_BTU_LB       "Btu/lb", "btu_per_lb", (1 / CT_JKG_PER_BTULB), 0
/* Inch-pound psychrometric tables (ASHRAE Fundamentals ch. 1) count dry air from 0 F, SI ones from
 * 0 C; the water counts from its freezing point in both. */
#define UNIT_BTU_LB_AIR   "Btu/lb", "btu_per_lb", (1 / CT_JKG_PER_BTULB), \
                          (CT_AIR_CPA * 32.0 / CT_F_PER_K / CT_JKG_PER_BTULB)
#define UNIT_KJ_KG        "kJ/kg", "kj_per_kg", 1e-3, 0
#define UNIT_J_KG         "J/kg", "j_per_kg", 1, 0
#define UNIT_BTU_LB_F     "Btu/lb F", "btu_per_lb_f", (1 / CT_JKG_PER_BTULB / CT_F_PER_K), 0
#define UNIT_KJ_KG_K      "kJ/kg K", "kj_per_kg_k", 1e-3, 0
#define UNIT_BTUH_F       "Btu/h F", "btuh_per_f", (1 / CT_W_PER_BTUH / CT_F_PER_K), 0
#define UNIT_KW_K         "kW/K", "kw_per_k", 1e-3, 0
#define UNIT_FT3_LB       "ft3/lb", "ft3_per_lb", (CT_KG_PER_LBM / CT_M3_PER_FT3), 0
#define UNIT_M3_KG        "m3/kg", "m3_per_kg", 1, 0
#define UNIT_LB_FT3       "lb/ft3", "lb_per_ft3", (CT_M3_PER_FT3 / CT_KG_PER_LBM), 0
#define UNIT_KG_M3        "kg/m3", "kg_per_m3", 1, 0
/* clang-format on */

#endif
