/* Putting a system together from a case: what does not belong in it fails. */
#include <stdio.h>

#include "base/units.h"
#include "check.h"
#include "plant.h"

/* A piston without a bore. */
static void no_bore(void **state)
{
    plant p;
    (void)state;
    plant_make(&p, "R-22", 3);
    p.c.indoor[0].meter = (ct_meter_spec){.kind = CT_METER_ORIFICE};
    ct_fault fault = {0};
    const ct_setup setup = plant_setup(&p);
    assert_int_equal(ct_setup_join(&setup, &p.sys, &fault), CT_INPUT);
    check_has("no bore", fault.what, "bore");
    plant_free(&p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(no_bore)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
