/* Oddities: values that can be true but seldom are: a lost zero, a nameplate read wrong, a static
 * measured at the wrong place. Each is a question to ask once; none refuses anything. The bounds
 * are common practice without a source. Public. */
#ifndef CT_JUDGE_ODDITIES_H
#define CT_JUDGE_ODDITIES_H

#include "base/status.h"
#include "base/units.h"
#include "case/case.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What is usual, SI. */
#define CT_ODD_CAPACITY_LOW (9000.0 * CT_W_PER_BTUH) /* W per nominal ton */
#define CT_ODD_CAPACITY_HIGH (13500.0 * CT_W_PER_BTUH)
#define CT_ODD_LOAD_LOW (3000.0 * CT_W_PER_BTUH)
#define CT_ODD_LOAD_HIGH (12000.0 * CT_W_PER_BTUH)
#define CT_ODD_AIRFLOW_LOW (250.0 * CT_M3S_PER_CFM) /* m3/s per nominal ton */
#define CT_ODD_AIRFLOW_HIGH (550.0 * CT_M3S_PER_CFM)
#define CT_ODD_STATIC_LOW (0.1 * CT_PA_PER_INWC) /* Pa */
#define CT_ODD_STATIC_HIGH (1.2 * CT_PA_PER_INWC)

typedef enum {
    CT_ODD_CAPACITY = 1 << 0,      /* rated capacity per ton outside 9,000 to 13,500 Btu/h */
    CT_ODD_LOAD = 1 << 1,          /* sensible load per ton outside 3,000 to 12,000 Btu/h */
    CT_ODD_RATED_AIRFLOW = 1 << 2, /* rated airflow per ton outside 250 to 550 cfm */
    CT_ODD_DUCT_AIRFLOW = 1 << 3,  /* the same of the airflow measured on the ducts */
    CT_ODD_STATIC = 1 << 4,        /* static under 0.1 or over 1.2 inwc */
    CT_ODD_SENSIBLE = 1 << 5,      /* the sensible load is above the rated total capacity */
    CT_ODD_TAP_RISES = 1 << 6      /* a tap of a psc motor that moves more air at more static */
} ct_oddity;
enum { CT_ODD_COUNT = 7 };

/* ct_oddity bits of the case with this indoor unit. */
CT_API unsigned ct_oddities(const ct_case *, const ct_indoor_unit *);

#ifdef __cplusplus
}
#endif
#endif
