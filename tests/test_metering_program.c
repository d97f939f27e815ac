/* `metering` as its user meets it: what its picture shows when a coil floods, and when none does;
 * the order of its pistons. */
#include "program.h"

#include "base/exit_codes.h"

/* The picture's text, drawn by gnuplot. */
static const char *picture_of(const char *example)
{
    static program_result r;
    static char text[400000], path[256];
    snprintf(path, sizeof path, "%s/examples/%s", SOURCE_DIR, example);
    const char *const args[] = {"metering", path,  "-o", program_path("drawn"),
                                "--format", "svg", NULL};
    program_run(args, environ, &r);
    check_is(example, r.code, ==, EXIT_DONE);
    check_same_text(example, r.err, "");
    check_that(example, program_read(program_path("drawn/superheat.svg"), text, sizeof text));
    return text;
}

/* The piston of the first example floods past 110 F; that of the second on no day. */
static void test_vapor_is_drawn_where_it_floods(void **state)
{
    (void)state;
    const char *floods = picture_of("r22-larger-coil.yaml");
    check_has("the share of vapor", floods, "Vapor leaving the coil");
    check_has("where it floods", floods, ">floods<");
    check_lacks("and does not say otherwise", floods, "No liquid");
    const char *dry = picture_of("r410a-humid.yaml");
    check_lacks("no empty graph", dry, "Vapor leaving the coil");
    check_has("a sentence instead", dry, "No liquid leaves the coil on any of these days.");
    check_has("the axis stays", dry, "Outdoor temperature");
}

/* The pistons by size, the one fitted among them: smaller than the others, between and larger. */
static void test_pistons_by_size(void **state)
{
    (void)state;
    static program_result r;
    static const char *const bores[] = {"bore=0.055in", "bore=0.065in", "bore=0.066in",
                                        "bore=0.08in"};
    for (size_t i = 0; i < sizeof bores / sizeof bores[0]; i++) {
        const char *const args[] = {"metering", "tons=3", "metering=piston", bores[i], NULL};
        program_run(args, environ, &r);
        check_that(bores[i], r.code == EXIT_DONE || r.code == EXIT_NO_PICK);
        const char *line = strstr(r.out, "Pistons, each charged");
        double size, before = 0.0;
        int n = 0, own = 0;
        for (; line && line[1] != '\n'; line = strchr(line + 1, '\n')) {
            if (!strchr(" >", line[1]) || sscanf(line + 2, "%lf", &size) != 1) continue;
            check_is(bores[i], size, >, before);
            own += line[1] == '>';
            before = size;
            n++;
        }
        check_is("rows", n, >=, 4);
        check_is("the one fitted", own, ==, 1);
    }
}

/* What the pistons of the list are charged to is what plant/fill.h says: the day's target
 * superheat; the rating day's where this day has none; the subcooling where one is stated. */
static void test_says_the_charge(void **state)
{
    (void)state;
    static program_result r;
    static const struct {
        const char *args[7], *says[3];
    } rows[] = {
        {{"metering", "tons=3", "metering=piston", "bore=0.067in"},
         {"each charged to the target superheat of this day", "Charge to the target superheat"}},
        {{"metering", "tons=3", "metering=piston", "bore=0.067in", "outdoor.subcooling=12F"},
         {"each charged to the subcooling stated, on the rating day"}},
        {{"metering", SOURCE_DIR "/examples/nothing-passes.yaml", "--si"},
         {"the rating day's target superheat; this day has none", "day charge by weight.",
          "none on this day: at 17.9 C wet bulb indoors"}}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        program_run(rows[i].args, environ, &r);
        for (int k = 0; k < 3 && rows[i].says[k]; k++)
            check_has(rows[i].says[k], r.out, rows[i].says[k]);
    }
}

/* What is said of a piston fits its state: no more charge where the most is not enough, no less
 * where any floods; and each size is where the text says it is. */
static void test_says_what_helps(void **state)
{
    (void)state;
    static program_result r;
    static const char *const example = SOURCE_DIR "/examples/r22-larger-coil.yaml";
    const struct {
        const char *args[6], *says, *lacks;
    } rows[] = {
        {{"metering", example, "metering=piston", "bore=0.055in"},
         "more charge is no remedy",
         "Charge to the target"},
        {{"metering", example, "metering=piston", "bore=0.055in"},
         "(see the pistons below)",
         "`metering` has the size"},
        {{"metering", example, "metering=piston", "bore=0.085in"},
         "less charge is no remedy",
         "Charge to the target"},
        {{"metering", example, "metering=piston", "bore=0.085in"},
         "The piston floods on all of these days.",
         "In this range"},
        {{"metering", example, "metering=piston", "bore=0.067in"},
         "Charge to the target superheat above.",
         "no remedy"},
        {{"metering", example, "metering=piston", "bore=0.067in", "--si"},
         "- 8.9 - outdoor dry",
         "all in F"},
        {{"metering", example},
         "is charged by superheat: choose from the pistons below.",
         "no bore for"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        program_run(rows[i].args, environ, &r);
        for (char *c = r.out; *c; c++)
            if (*c == '\n') *c = ' ';
        check_has(rows[i].says, r.out, rows[i].says);
        check_lacks(rows[i].says, r.out, rows[i].lacks);
    }
}

/* A size on the shelf that is the exact one is in the list; so is the one that would fix it. */
static void test_named_sizes_are_listed(void **state)
{
    (void)state;
    static program_result r;
    static const char *const example = SOURCE_DIR "/examples/r22-larger-coil.yaml";
    const char *const args[] = {"metering", example, "metering=piston", "bore=0.055in", NULL};
    double fix;
    char line[32];
    program_run(args, environ, &r);
    const char *list = strstr(r.out, "Pistons, each charged"), *of = strstr(r.out, "a piston of ");
    check_that("a fix", of && sscanf(of, "a piston of %lf", &fix) == 1);
    snprintf(line, sizeof line, "\n   %.4f ", fix);
    check_that("a list", list);
    check_has("the fix is in it", list, line);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_vapor_is_drawn_where_it_floods),
        cmocka_unit_test(test_pistons_by_size), cmocka_unit_test(test_says_the_charge),
        cmocka_unit_test(test_says_what_helps), cmocka_unit_test(test_named_sizes_are_listed)};
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
