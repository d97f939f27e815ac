/* One invented case for the tests of spread, what-ifs and batches: a 3 ton R-410A unit with a
 * larger coil and three taps. */
#ifndef INVENTED_CASE_H
#define INVENTED_CASE_H

#include <string.h>

#include "case/casefile.h"
#include "check.h"
#include "judge/sweep.h"

#define INVENTED_CASE                                                                              \
    "job: {title: invented}\n"                                                                     \
    "site:\n"                                                                                      \
    "  altitude: 600 ft\n"                                                                         \
    "  outdoor_dry_bulb: 95 F\n"                                                                   \
    "  indoor_air: {dry_bulb: 75 F, wet_bulb: 63 F}\n"                                             \
    "house: {sensible_load: 22500 Btu/h, latent_load: 4500 Btu/h, margin: 2 %,\n"                  \
    " judge_load_at: entered,\n"                                                                   \
    "        balance_temperature: 68 F}\n"                                                         \
    "limits: {airflow_floor: 0 cfm/ton, frost_outdoor: 95 F}\n"                                    \
    "outdoor: {refrigerant: R-410A, tons: 3 ton, rated_capacity: 35000 Btu/h,\n"                   \
    "          rated_eer: 10.5 Btu/Wh, rated_sensible_ratio: 72 %}\n"                              \
    "duct: {static: 0.62 inwc, airflow: 1150 cfm}\n"                                               \
    "indoor:\n"                                                                                    \
    "  coil: {size: 1.3}\n"                                                                        \
    "  blower:\n"                                                                                  \
    "    motor: psc\n"                                                                             \
    "    static_limit: 0.9 inwc\n"                                                                 \
    "    taps:\n"                                                                                  \
    "      - {name: low, points: [[0.1 inwc, 950 cfm, 310 W], [0.5 inwc, 840 cfm, 290 W],\n"       \
    "                             [0.8 inwc, 700 cfm, 270 W]]}\n"                                  \
    "      - {name: medium, points: [[0.1 inwc, 1180 cfm, 420 W], [0.5 inwc, 1040 cfm, 390 W],\n"  \
    "                                [0.8 inwc, 870 cfm, 360 W]]}\n"                               \
    "      - {name: high, points: [[0.1 inwc, 1420 cfm, 560 W], [0.5 inwc, 1230 cfm, 510 W],\n"    \
    "                              [0.8 inwc, 1010 cfm, 470 W]]}\n"                                \
    "sweep: {points: 6}\n"

typedef struct {
    ct_case c;
    ct_refrigerant *refrigerant;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration calibration;
    ct_solver *solver;
    ct_sweep_job job;
    ct_sweep sweep;
} invented;

/* Static, for a case and a sweep are large; each test fills it anew. */
__attribute__((unused)) static invented inv;
__attribute__((unused)) static ct_setup invented_setup(void)
{
    return (ct_setup){inv.solver, &inv.c, &inv.outdoor, &inv.matched, 0};
}

__attribute__((unused)) static void invented_sweep(void)
{
    const ct_setup setup = invented_setup();
    ct_fault f = {.what = ""};

    if (ct_setup_rate(&inv.c, inv.refrigerant, &inv.outdoor, &inv.matched, &inv.calibration, &f) !=
            CT_OK ||
        ct_sweep_prepare(&setup, &inv.job, &f) != CT_OK ||
        ct_sweep_run(inv.solver, &inv.job, &inv.sweep, &f) != CT_OK)
        fail_msg("%s", f.what);
}

__attribute__((unused)) static void invented_read(const char *text)
{
    static ct_case_report report;
    ct_fault f = {.what = ""};

    if (ct_casefile_parse(text, strlen(text), &inv.c, &report, &f) != CT_OK) fail_msg("%s", f.what);
    if (!inv.refrigerant)
        assert_int_equal(ct_refrigerant_make(inv.c.outdoor.refrigerant, &inv.refrigerant, &f),
                         CT_OK);
    if (!inv.solver) assert_int_equal(ct_solver_make(&inv.solver, &f), CT_OK);
    invented_sweep();
}

__attribute__((unused)) static int invented_free(void **state)
{
    (void)state;
    ct_solver_free(inv.solver);
    ct_refrigerant_free(inv.refrigerant);
    return 0;
}

#endif
