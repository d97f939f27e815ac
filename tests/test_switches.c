/* The blower's controls: signs and limits of what each makes of the humidity. */
#include <string.h>

#include "base/units.h"
#include "example_case.h"
#include "plant/charge.h"
#include "study/switches.h"

static ct_switches w;

static const ct_room_out *room(ct_switch i)
{
    check_is("settles", w.at[i].status, ==, CT_OK);
    return &w.at[i].room;
}

/* Tap i of an example, with the controls as given. */
static void run_example(example *e, int tap)
{
    const ct_sweep_job job = example_job(e, 0);
    ct_point point;
    ct_fault fault = {.what = ""};
    check_is("tap", ct_sweep_tap(e->solver, &job, tap, &point, &fault), ==, CT_OK);
    if (ct_switches_run(e->solver, &job, &point, &w, &fault) != CT_OK) fail_msg("%s", fault.what);
}

/* A blower that runs on gives water back to the room from a wet coil: at no run-on it is driest,
 * all the time on dampest (Henderson & Rengarajan 1996; in one apartment ON for five days took the
 * dew point from about 60 to 65 F: from memory, unconfirmed). Less air takes more water out for the
 * same cooling. */
static void signs(void **state)
{
    static const char *const names[] = {"r410a-humid", "r22-larger-coil"};
    (void)state;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        example *e = example_open(names[i]);
        e->c.control.rh_off = 0.30; /* so that it is always slowed */
        e->c.control.rh_on = 0.31;
        run_example(e, 2);
        check_is("run-on", room(CT_SWITCH_RUNS_ON)->rh, >, room(CT_SWITCH_STOPS)->rh);
        check_is("on", room(CT_SWITCH_FAN_ON)->rh, >, room(CT_SWITCH_RUNS_ON)->rh + 0.02);
        check_is("slow start", room(CT_SWITCH_STARTS)->rh, <, room(CT_SWITCH_STOPS)->rh);
        check_is("cut", room(CT_SWITCH_HUMIDITY)->rh, <, room(CT_SWITCH_STARTS)->rh);
        check_is("over-cooled holds less water", room(CT_SWITCH_OVERCOOL)->W, <,
                 room(CT_SWITCH_HUMIDITY)->W);
        check_is("over-cooled runs longer", room(CT_SWITCH_OVERCOOL)->run, >,
                 room(CT_SWITCH_HUMIDITY)->run);
        check_abs("room", w.at[CT_SWITCH_OVERCOOL].T, e->c.site.indoor.T - e->c.control.overcool,
                  1e-9);
        example_close(e);
    }
}

/* The blower as the case has it is the settled humidity of the sweep. Both read the same balances,
 * the tables here between their humidities: 0.05 % RH. */
static void as_the_sweep(void **state)
{
    (void)state;
    example *e = example_open("r410a-humid");
    const ct_sweep_job job = example_job(e, 0);
    ct_point point;
    check_is("tap", ct_sweep_tap(e->solver, &job, 1, &point, NULL), ==, CT_OK);
    ct_sweep_humidity(e->solver, &job, &point);
    run_example(e, 1);
    check_that("the case has a run-on", e->c.house.fan_off_delay.has);
    check_abs("run-on", room(CT_SWITCH_RUNS_ON)->rh, point.room.rh, 5e-4);
    check_abs("on", room(CT_SWITCH_FAN_ON)->rh, point.room_fan_on.rh, 5e-4);
    example_close(e);
}

/* A control that goes on and off between two humidities keeps the house between them, when full
 * airflow leaves it above and the cut below; outside them it is always on, or never. */
static void between_its_humidities(void **state)
{
    (void)state;
    example *e = example_open("r410a-humid");
    run_example(e, 2);
    const double full = room(CT_SWITCH_STOPS)->rh;
    e->c.control.rh_off = full + 0.01;
    e->c.control.rh_on = full + 0.02;
    run_example(e, 2);
    check_abs("never", w.at[CT_SWITCH_HUMIDITY].slowed, 0, 1e-9);
    check_abs("as without", room(CT_SWITCH_HUMIDITY)->rh, full, 1e-9);
    e->c.control.rh_off = full - 0.20;
    e->c.control.rh_on = full - 0.19;
    run_example(e, 2);
    check_abs("always", w.at[CT_SWITCH_HUMIDITY].slowed, 1, 0);
    const double cut = room(CT_SWITCH_HUMIDITY)->rh;
    e->c.control.rh_off = cut + 0.25 * (full - cut);
    e->c.control.rh_on = cut + 0.75 * (full - cut);
    run_example(e, 2);
    const double rh = room(CT_SWITCH_HUMIDITY)->rh, s = w.at[CT_SWITCH_HUMIDITY].slowed;
    check_is("above", rh, >, e->c.control.rh_off);
    check_is("below", rh, <, e->c.control.rh_on);
    check_abs("in proportion", s, (rh - e->c.control.rh_off) / (0.5 * (full - cut)), 1e-8);
    example_close(e);
}

/* A piston is charged once, at the speed set: the slow start finds that charge, not one for its
 * own airflow, and a coil that is full at the whole airflow floods at the cut one (the energy
 * balance of one charge over less air). */
static void charge_stays(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    e->c.outdoor.assumed |= CT_ASSUMED_SUBCOOLING;
    e->c.indoor[0].meter = (ct_meter_spec){
        .kind = CT_METER_ORIFICE, .bore = {true, 0.071 * CT_M_PER_IN}, .length = 0.5 * CT_M_PER_IN};
    const ct_sweep_job job = example_job(e, 0);
    ct_point point;
    double whole, slow;
    check_is("tap", ct_sweep_tap(e->solver, &job, 3, &point, NULL), ==, CT_OK);
    run_example(e, 3);
    check_is("slow", w.slow.status, ==, CT_OK);
    check_is("less air", w.slow.m_da, <, 0.9 * point.m_da);
    check_is("charge", ct_charge_of(&job.system, &point.balance, &whole, NULL), ==, CT_OK);
    check_is("charge", ct_charge_of(&job.system, &w.slow.balance, &slow, NULL), ==, CT_OK);
    print_message("superheat %.1f F, slow %.1f F\n", 1.8 * point.balance.superheat,
                  1.8 * w.slow.balance.superheat);
    check_rel("the same charge", slow, whole, 1e-7);
    check_is("less superheat", w.slow.balance.superheat, <, point.balance.superheat - 1.0);
    example_close(e);
}

/* The slowest tap's cut goes below the least airflow: said, not advised. */
static void forbidden(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    run_example(e, 0);
    check_is("least airflow", w.slow_fails, ==, CT_LIMIT_FLOOR);
    e->c.limits.V_per_ton_floor = 0.0;
    e->c.control.cut = 0.02;
    run_example(e, 3);
    check_is("allowed", w.slow_fails, ==, -1);
    example_close(e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(signs),
        cmocka_unit_test(as_the_sweep),
        cmocka_unit_test(between_its_humidities),
        cmocka_unit_test(charge_stays),
        cmocka_unit_test(forbidden),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
