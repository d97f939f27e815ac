/* Another coil from the matched one: a coil changed by nothing must not change, growth follows its
 * laws. */
#include <stdio.h>

#include "base/units.h"
#include "check.h"
#include "geometry.h"
#include "plant.h"

static void run_boiling(const ct_coil *c, const ct_coil_air *a, double T, double UAi,
                        ct_coil_through *out)
{
    ct_coil_tubes tubes = {.T_boil = T, .T_dew = T, .UAi = UAi};
    ct_coil_run(c, a, &tubes, out);
}

static void same_coil(const ct_coil *a, const ct_coil *b)
{
    ct_air in = air_at(80, 67);
    for (double f = 0.6; f < 1.4; f += 0.1) {
        ct_coil_air x, y;
        ct_coil_through p, q;
        double m = f * a->m_air_ref, m_r = f * a->m_r_ref;
        assert_int_equal(ct_coil_at_air(a, &in, m, &x, NULL), CT_OK);
        assert_int_equal(ct_coil_at_air(b, &in, m, &y, NULL), CT_OK);
        run_boiling(a, &x, K_(45), ct_coil_UAi(a, m_r), &p);
        run_boiling(b, &y, K_(45), ct_coil_UAi(b, m_r), &q);
        check_rel("heat", q.Q, p.Q, 1e-12);
        check_rel("temperature", q.out.T, p.out.T, 1e-12);
    }
}

/* Size 1, and the same geometry again, change nothing; nor does one unit joined with itself. */
static void nothing_changed(void **state)
{
    plant p;
    ct_coil coil;
    (void)state;
    plant_make(&p, "R-410A", 3);
    for (int g = 0; g < 2; g++) {
        ct_coil_spec one = {.size = 1, .growth = g ? CT_GROW_DEPTH : CT_GROW_FACE};
        assert_int_equal(ct_grow_coil(&p.c, &p.matched, &one, &coil, NULL), CT_OK);
        same_coil(&p.matched, &coil);
    }
    plant_free(&p);
    plant_case(&p.c, "R-410A", 3);
    p.c.has_matched_geometry = true;
    p.c.matched = geometry(0.375, 3, 6);
    assert_int_equal(plant_calibrate(&p, NULL), CT_OK);
    ct_coil_spec again = {.has_geometry = true, .geometry = p.c.matched};
    assert_int_equal(ct_grow_coil(&p.c, &p.matched, &again, &coil, NULL), CT_OK);
    same_coil(&p.matched, &coil);
    for (int g = 0; g < 2; g++) {
        ct_coil_spec one = {.size = 1, .growth = g ? CT_GROW_DEPTH : CT_GROW_FACE};
        assert_int_equal(ct_grow_coil(&p.c, &p.matched, &one, &coil, NULL), CT_OK);
        same_coil(&p.matched, &coil);
    }
    plant_free(&p);
}

/* A coil with measured geometry grown over its face is the coil of that bigger face: two routes,
 * one answer. Circuits grow with the face in both. */
static void face_by_two_routes(void **state)
{
    plant p;
    ct_coil by_size, by_rule;
    (void)state;
    plant_case(&p.c, "R-410A", 3);
    p.c.has_matched_geometry = true;
    p.c.matched = geometry(0.375, 3, 6);
    assert_int_equal(plant_calibrate(&p, NULL), CT_OK);
    ct_coil_spec size = {.size = 1.5, .growth = CT_GROW_FACE};
    ct_coil_spec rule = {.has_geometry = true, .geometry = geometry(0.5625, 3, 9)};
    assert_int_equal(ct_grow_coil(&p.c, &p.matched, &size, &by_size, NULL), CT_OK);
    assert_int_equal(ct_grow_coil(&p.c, &p.matched, &rule, &by_rule, NULL), CT_OK);
    same_coil(&by_size, &by_rule);
    plant_free(&p);
}

/* The laws of growth, by their meaning: twice the face at twice the air and twice the refrigerant
 * is two coils side by side; depth leaves velocities alone. */
static void growth(void **state)
{
    plant p;
    ct_coil two, deep;
    ct_air in = air_at(80, 67);
    ct_coil_air a, b;
    ct_coil_through x, y;
    (void)state;
    plant_make(&p, "R-22", 3);
    ct_coil_spec face = {.size = 2, .growth = CT_GROW_FACE};
    ct_coil_spec depth = {.size = 2, .growth = CT_GROW_DEPTH};
    assert_int_equal(ct_grow_coil(&p.c, &p.matched, &face, &two, NULL), CT_OK);
    assert_int_equal(ct_coil_at_air(&p.matched, &in, 0.6, &a, NULL), CT_OK);
    assert_int_equal(ct_coil_at_air(&two, &in, 1.2, &b, NULL), CT_OK);
    run_boiling(&p.matched, &a, K_(45), ct_coil_UAi(&p.matched, 0.06), &x);
    run_boiling(&two, &b, K_(45), ct_coil_UAi(&two, 0.12), &y);
    check_rel("two side by side", y.Q, 2 * x.Q, 1e-12);
    assert_int_equal(ct_grow_coil(&p.c, &p.matched, &depth, &deep, NULL), CT_OK);
    assert_int_equal(ct_coil_at_air(&deep, &in, 0.6, &b, NULL), CT_OK);
    check_rel("same velocity, same coefficient", b.film, a.film, 1e-14);
    check_rel("twice the area", b.hA, 2 * a.hA, 1e-14);
    check_rel("twice the tubes", ct_coil_UAi(&deep, 0.06), 2 * ct_coil_UAi(&p.matched, 0.06),
              1e-14);
    ct_coil_spec circuits = {.size = 1, .growth = CT_GROW_DEPTH, .circuits = {true, 2}};
    assert_int_equal(ct_grow_coil(&p.c, &p.matched, &circuits, &deep, NULL), CT_OK);
    check_rel("twice the circuits", ct_coil_UAi(&deep, 0.06),
              pow(0.5, 0.8) * ct_coil_UAi(&p.matched, 0.06), 1e-12);
    plant_free(&p);
}

/* Thinner tubes, all else the same: h D/k ~ (G D)^0.8 and G ~ 1/D^2, so h ~ D^-1.8 and UAi ~ D^-0.8
 * with the inside diameter, by hand. */
static void thinner_tubes(void **state)
{
    plant p;
    ct_coil coil;
    ct_coil_spec spec = {.has_geometry = true, .geometry = geometry(0.375, 3, 6)};
    (void)state;
    plant_case(&p.c, "R-410A", 3);
    p.c.has_matched_geometry = true;
    p.c.matched = geometry(0.375, 3, 6);
    assert_int_equal(plant_calibrate(&p, NULL), CT_OK);
    spec.geometry.tube_od = 7.7e-3;
    assert_int_equal(ct_grow_coil(&p.c, &p.matched, &spec, &coil, NULL), CT_OK);
    check_rel("UAi", ct_coil_UAi(&coil, 0.06) / ct_coil_UAi(&p.matched, 0.06),
              pow(7.0 / 8.825, -0.8), 1e-12);
    plant_free(&p);
}

static void faults(void **state)
{
    static const struct {
        const char *name;
        ct_coil_spec spec;
        ct_status want;
        const char *word;
    } row[] = {
        {"no size", {.size = 0}, CT_RANGE, "size"},
        {"NaN size", {.size = NAN}, CT_RANGE, "size"},
        {"monster", {.size = 10}, CT_RANGE, "size"},
        {"geometry against none", {.has_geometry = true}, CT_INPUT, "matched coil has none"},
        {"no circuits", {.size = 1, .circuits = {true, 0}}, CT_RANGE, "circuits"},
        {"NaN circuits", {.size = 1, .circuits = {true, NAN}}, CT_RANGE, "circuits"},
    };
    plant p;
    (void)state;
    plant_make(&p, "R-22", 3);
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        ct_coil coil = {.Ao = -7};
        ct_fault fault = {0};
        check_is(row[i].name, ct_grow_coil(&p.c, &p.matched, &row[i].spec, &coil, &fault), ==,
                 row[i].want);
        check_has(row[i].name, fault.what, row[i].word);
        check_abs("untouched", coil.Ao, -7, 0);
    }
    plant_free(&p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_changed), cmocka_unit_test(face_by_two_routes),
        cmocka_unit_test(growth), cmocka_unit_test(thinner_tubes), cmocka_unit_test(faults)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
