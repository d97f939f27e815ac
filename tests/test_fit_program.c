/* The verb fit as its user meets it: case in; verdict, slack, checklist and exit code out.
 * Expected values are plane geometry by hand, written beside each row. Tolerance 1e-9 m where the
 * answer is a difference, 1e-7 m where an angle is searched; JSON carries 12 digits. */
#include "check.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <jansson.h>

#include "base/exit_codes.h"

#define IN 0.0254
#define DEG (3.14159265358979323846 / 180.0)
#define ROWS(a) (sizeof(a) / sizeof((a)[0]))

static char scratch[] = "/tmp/coiltrim-fit-XXXXXX";
static char case_path[64], err_path[64];

typedef struct {
    int code;
    char out[32768], err[4096];
} outcome;

static outcome result;

/* A case with what no fit needs, and `more` after "indoor:". */
static void write_case(const char *more)
{
    FILE *f = fopen(case_path, "w");
    check_that(case_path, f != NULL);
    fprintf(f,
            "site: {outdoor_dry_bulb: 95 F, indoor_air: {dry_bulb: 75 F, wet_bulb: 63 F}}\n"
            "house: {sensible_load: 24000 Btu/h, latent_load: 4500 Btu/h}\n"
            "outdoor: {refrigerant: R-22, tons: 3 ton, rated_capacity: 35000 Btu/h, "
            "rated_eer: 10 Btu/Wh}\n"
            "indoor:\n%s",
            more);
    check_is(case_path, fclose(f), ==, 0);
}

static void run(const char *path, const char *options)
{
    char command[1024];
    snprintf(command, sizeof command, "'%s' fit '%s' %s 2>'%s'", PROGRAM, path, options, err_path);
    FILE *pipe = popen(command, "r");
    check_that(command, pipe != NULL);
    result.out[fread(result.out, 1, sizeof result.out - 1, pipe)] = '\0';
    const int state = pclose(pipe);
    check_that(command, WIFEXITED(state));
    result.code = WEXITSTATUS(state);
    FILE *f = fopen(err_path, "r");
    check_that(err_path, f != NULL);
    result.err[fread(result.err, 1, sizeof result.err - 1, f)] = '\0';
    fclose(f);
}

/* Blanks and line ends alike, as the list wraps its lines. */
static void squeeze(char *text)
{
    char *to = text;
    for (const char *c = text; *c; c++) {
        const bool blank = *c == ' ' || *c == '\n';
        if (!blank) *to++ = *c;
        if (blank && to > text && to[-1] != ' ') *to++ = ' ';
    }
    *to = '\0';
}

static void expect(const char *name, const char *text, const char *wanted)
{
    const bool good = wanted ? strstr(text, wanted) != NULL : text[0] == '\0';
    if (!good) print_error("%s: wanted '%s' in:\n%s\n", name, wanted ? wanted : "", text);
    check_that(name, good);
}

static json_t *json_of(const char *name)
{
    json_error_t error;
    json_t *root = json_loads(result.out, JSON_REJECT_DUPLICATES, &error);
    if (!root) print_error("%s: %s\n%s\n", name, error.text, result.out);
    check_that(name, root != NULL);
    return root;
}

static json_t *unit_of(json_t *root, size_t i)
{
    return json_array_get(json_object_get(root, "units"), i);
}

static const char *text_of(const json_t *object, const char *key)
{
    const char *text = json_string_value(json_object_get(object, key));
    return text ? text : "";
}

static double number_of(const json_t *object, const char *key)
{
    const json_t *v = json_object_get(object, key);
    return json_is_number(v) ? json_number_value(v) : (double)NAN;
}

#define CABINET(w, d, h) "  cabinet: {width: " w ", depth: " d ", height: " h
#define DOOR(w, h) "  - {kind: door, name: door, width: " w ", height: " h "}\n"
#define HATCH(w, l, room)                                                                          \
    "  - {kind: hatch, name: hatch, width: " w ", length: " l ", headroom: " room "}\n"
#define SPACE(w, d, h) "space: {width: " w ", depth: " d ", height: " h

static const struct {
    const char *name, *text;
    int code;
    const char *verdict, *tightest;
    double slack, tolerance; /* m */
    const char *says;        /* in the list, blanks squeezed */
} verdicts[] = {
    /* 32 - 20; the height 80 - 40 is roomier. */
    {"square", CABINET("20 in", "20 in", "40 in") "}\nway_in:\n" DOOR("32 in", "80 in"), EXIT_DONE,
     "fits", "door", 12 * IN, 1e-9, "Fits, with 12 in to spare at the tightest place, door"},
    /* Of 0.5, 0.6, 1.5 m only 0.8 of headroom: no edge pair but 0.5 x 0.6 goes in 1.0 x 0.7, and
     * 1.5 stands under 0.8 only leaned. It slides to acos(0.5/1.0) = 60 degrees, where its foot is
     * at the edge and its head 1.5 cos 60 = 0.75 up; later it sinks. */
    {"only tilted",
     CABINET("0.5 m", "0.6 m", "1.5 m") "}\nway_in:\n" HATCH("1.0 m", "0.7 m", "0.8 m"), EXIT_DONE,
     "fits_tilted", "hatch", 0.05, 1e-7,
     "hatch: goes through standing, its width along the hatch's width, tilted as it goes up, "
     "tightest at 60 degrees from upright"},
    /* Whole: leaned along the 30 it slides to cos = 20/30, its head 50 x 2/3 = 33.333 over the edge
     * and 26 are there. Along the 22 it is 50 x 20/22 = 45. A piece of 25 laid down: 20 and 25 in
     * 22 and 30, 20 under 26; least 2. Stood up: 26 - 25 = 1, less. */
    {"only in two sections",
     CABINET("20 in", "20 in", "50 in") ", sections: 2, section_height: 25 in}\nway_in:\n" HATCH(
         "22 in", "30 in", "26 in"),
     EXIT_DONE, "fits_in_sections", "hatch", 2 * IN, 1e-7,
     "hatch: in one piece it is 7.3 in too large, but the tallest section goes through lying"},
    {"the same in one piece",
     CABINET("20 in", "20 in", "50 in") "}\nway_in:\n" HATCH("22 in", "30 in", "26 in"),
     EXIT_NO_PICK, "does_not_fit", "hatch", -(50 * 2.0 / 3.0 - 26) * IN, 1e-7,
     "[NO] hatch: 7.3 in too large; the closest is standing"},
    {"not even in sections",
     CABINET("20 in", "20 in", "50 in") ", sections: 2, section_height: 25 in}\nway_in:\n" HATCH(
         "19 in", "30 in", "60 in"),
     EXIT_NO_PICK, "does_not_fit", "hatch", -1 * IN, 1e-9,
     "[NO] hatch: in one piece it is 1 in too large, the tallest section 1 in"},
    /* No edge is less than 561, so no way of holding it helps; tilting only widens it. */
    {"1 mm short", CABINET("561 mm", "561 mm", "1200 mm") "}\nway_in:\n" DOOR("560 mm", "2000 mm"),
     EXIT_NO_PICK, "does_not_fit", "door", -0.001, 1e-9,
     "Does not fit: 0.04 in too large for the tightest place, door"},
    {"1 mm to spare",
     CABINET("561 mm", "561 mm", "1200 mm") "}\nway_in:\n" DOOR("562 mm", "2000 mm"), EXIT_DONE,
     "fits", "door", 0.001, 1e-9, "0.04 in to spare"},
    {"exactly as wide", CABINET("24 in", "24 in", "40 in") "}\nway_in:\n" DOOR("24 in", "80 in"),
     EXIT_DONE, "fits", "door", 0, 1e-9, "0 in to spare"},
    {"0.01 mm short",
     CABINET("560.01 mm", "560.01 mm", "1200 mm") "}\nway_in:\n" DOOR("560 mm", "2000 mm"),
     EXIT_NO_PICK, "does_not_fit", "door", -1e-5, 1e-9, "0.00039 in too large"},
    /* Door 32 - 20 = 12 to spare; the hatch's 18 are 2 less than the least edge. */
    {"the second place kills it",
     CABINET("20 in", "20 in", "40 in") "}\nway_in:\n" DOOR("32 in", "80 in")
         HATCH("18 in", "60 in", "60 in"),
     EXIT_NO_PICK, "does_not_fit", "hatch", -2 * IN, 1e-9, "[ok] door: goes through standing"},
    {"too tall for the space, upright only",
     CABINET("20 in", "20 in", "50 in") ", upright_only: yes}\n" SPACE("60 in", "40 in",
                                                                       "49 in") "}\n",
     EXIT_NO_PICK, "does_not_fit", "space", -1 * IN, 1e-9, "height 1 in too large"},
    /* On its side: 60 - 50, 40 - 20, 49 - 20; the least is 10. */
    {"the same may lie on a side",
     CABINET("20 in", "20 in", "50 in") "}\n" SPACE("60 in", "40 in", "49 in") "}\n", EXIT_DONE,
     "fits", "space", 10 * IN, 1e-9, "fits lying on a side"},
    /* 1 in is what 45 - 20 - 24 leave of the depth. */
    {"clearance in front counts",
     CABINET("20 in", "20 in", "50 in") "}\n" SPACE("40 in", "45 in", "70 in") ", front: 24 in}\n",
     EXIT_DONE, "fits", "space", 1 * IN, 1e-9, "service: 25 in free in front, 24 in needed"},
    {"and is asked for when it is not stated",
     CABINET("20 in", "20 in", "50 in") "}\n" SPACE("40 in", "45 in", "70 in") "}\n", EXIT_DONE,
     "fits", "space", 20 * IN, 1e-9, "[ ? ] service: 25 in free in front; look up"},
    {"the way in alone: the space is asked for",
     CABINET("20 in", "20 in", "40 in") "}\nway_in:\n" DOOR("32 in", "80 in"), EXIT_DONE, "fits",
     "door", 12 * IN, 1e-9, "[ ? ] space: add space with width, depth and height"},
    {"the space alone: the way in is asked for",
     CABINET("20 in", "20 in", "50 in") "}\n" SPACE("40 in", "45 in", "70 in") "}\n", EXIT_DONE,
     "fits", "space", 20 * IN, 1e-9, "[ ? ] way in: add way_in"},
    /* Shapes of 40 x 5: at 45 degrees 45/sqrt 2 = 31.82 both ways in 32 x 32; square 40 > 32. The
     * third edge, 40, travels. */
    {"rolled through a window",
     CABINET("40 in", "5 in", "40 in") "}\nway_in:\n" DOOR("32 in", "32 in"), EXIT_DONE,
     "fits_tilted", "door", (32 - 45 / 1.41421356237309505) * IN, 1e-9, "rolled 45 degrees"},
};

static void test_verdicts(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROWS(verdicts); i++) {
        const char *name = verdicts[i].name;
        write_case(verdicts[i].text);
        run(case_path, "--json --si");
        json_t *root = json_of(name);
        const json_t *unit = unit_of(root, 0);
        expect(name, text_of(unit, "verdict"), verdicts[i].verdict);
        check_is(name, strlen(text_of(unit, "verdict")), ==, strlen(verdicts[i].verdict));
        expect(name, text_of(unit, "tightest"), verdicts[i].tightest);
        check_abs(name, number_of(unit, "slack_m"), verdicts[i].slack, verdicts[i].tolerance);
        check_abs(name, result.code, verdicts[i].code, 0);
        json_decref(root);
        run(case_path, "");
        squeeze(result.out);
        expect(name, result.out, verdicts[i].says);
        expect(name, result.err, NULL);
        check_abs(name, result.code, verdicts[i].code, 0);
    }
}

static void test_way_in_json(void **state)
{
    (void)state;
    write_case(CABINET("0.5 m", "0.6 m", "1.5 m") "}\nway_in:\n" HATCH("1.0 m", "0.7 m", "0.8 m"));
    run(case_path, "--json --si");
    json_t *root = json_of("tilted");
    const json_t *place = json_array_get(json_object_get(unit_of(root, 0), "way_in"), 0);
    const json_t *whole = json_object_get(place, "whole");
    expect("kind", text_of(place, "kind"), "hatch");
    expect("way", text_of(whole, "way"), "tipped");
    expect("lead", text_of(whole, "lead"), "height");
    check_that("passes", json_is_true(json_object_get(whole, "passes")));
    check_that("one piece has no section", json_object_get(place, "section") == NULL);
    check_abs("60 degrees", number_of(whole, "angle_rad"), 60 * DEG, 1e-5);
    json_decref(root);
    run(case_path, "--json");
    root = json_of("inches");
    check_abs("0.05 m", number_of(unit_of(root, 0), "slack_in"), 0.05 / IN, 1e-5);
    json_decref(root);
}

static void test_service(void **state)
{
    (void)state;
    /* 20 ft of line fall 20/8 = 2.5 in; 2 are there. Before the front 40 - 20 = 20, of which the
     * filter of 21 needs one more. Neither keeps the unit from fitting. */
    write_case(CABINET("20 in", "20 in", "50 in") ", filter: 21 in, drain_outlet: 3 in}\n" SPACE(
        "60 in", "40 in", "70 in") ", front: 10 in, drain_run: 20 ft, drain_end: 1 in}\n");
    run(case_path, "--json");
    json_t *root = json_of("service");
    const json_t *unit = unit_of(root, 0);
    const json_t *drain = json_object_get(unit, "condensate");
    const json_t *filter = json_object_get(unit, "filter");
    check_abs("needed", number_of(drain, "fall_needed_in"), 2.5, 1e-9);
    check_abs("available", number_of(drain, "fall_available_in"), 2.0, 1e-9);
    check_that("drain", json_is_false(json_object_get(drain, "ok")));
    check_abs("filter", number_of(filter, "length_in"), 21.0, 1e-9);
    check_abs("free", number_of(json_object_get(unit, "space"), "front_free_in"), 40.0, 1e-9);
    check_abs("fits", result.code, EXIT_DONE, 0);
    json_decref(root);
    run(case_path, "--si");
    squeeze(result.out);
    expect("drain", result.out, "[NO] condensate: 51 mm of fall");
    expect("drain", result.out, "64 mm needed (1 in 96); raise the unit");
}

static void test_filter_blocked(void **state)
{
    (void)state;
    /* Square space of 40 each way: 20 before the front whichever way it looks. */
    write_case(CABINET("20 in", "20 in", "50 in") ", filter: 21 in}\n" SPACE("40 in", "40 in",
                                                                             "50 in") "}\n");
    run(case_path, "");
    squeeze(result.out);
    expect("filter", result.out, "[NO] filter: 21 in long, 20 in free in front");
    expect("drain", result.out, "[ ? ] condensate: add indoor.cabinet.drain_outlet");
    check_abs("the code stays", result.code, EXIT_DONE, 0);
}

static void test_candidates(void **state)
{
    (void)state;
    /* The unit itself fits, the second candidate does not, and the first has no cabinet. */
    write_case(
        CABINET("20 in", "20 in", "40 in") "}\ncandidates:\n  - name: bare\n  - name: wide\n"
                                           "    cabinet: {width: 33 in, depth: 33 in, "
                                           "height: 40 in}\nway_in:\n" DOOR("32 in", "80 in"));
    run(case_path, "--json");
    json_t *root = json_of("candidates");
    check_is("three", json_array_size(json_object_get(root, "units")), ==, 3);
    expect("first", text_of(unit_of(root, 0), "verdict"), "fits");
    check_that("bare", json_is_null(json_object_get(unit_of(root, 1), "verdict")));
    expect("wide", text_of(unit_of(root, 2), "verdict"), "does_not_fit");
    check_abs("any that does not fit is reported", result.code, EXIT_NO_PICK, 0);
    json_decref(root);
    run(case_path, "");
    squeeze(result.out);
    expect("bare", result.out, "add candidates[1].cabinet with width");
}

static void test_nothing_to_judge(void **state)
{
    (void)state;
    write_case(CABINET("20 in", "20 in", "40 in") "}\n");
    run(case_path, "");
    check_abs("no way in, no space", result.code, EXIT_INPUT, 0);
    expect("tells", result.out, "Not checked");
    expect("tells", result.out, "[ ? ] way in: add way_in");
    expect("tells", result.err, "nothing to check");
    run(case_path, "--json");
    json_t *root = json_of("nothing");
    check_that("null", json_is_null(json_object_get(unit_of(root, 0), "verdict")));
    json_decref(root);
}

static void test_faults_and_files(void **state)
{
    (void)state;
    char path[96], options[160];
    write_case(CABINET("20 in", "20 in", "40 in") "}\nway_in:\n"
                                                  "  - {kind: door, width: 3 ft, height: 7 ft, "
                                                  "headroom: 4 ft}\n");
    run(case_path, "");
    check_abs("fault", result.code, EXIT_INPUT, 0);
    expect("fault", result.err, "case.yaml:7: way_in[1].headroom: a door has none");
    expect("fault", result.out, NULL);
    run("/nowhere/case.yaml", "");
    check_abs("no file", result.code, EXIT_SYSTEM, 0);
    write_case(CABINET("20 in", "20 in", "40 in") "}\nway_in:\n" DOOR("32 in", "80 in"));
    snprintf(path, sizeof path, "%s/list", scratch);
    snprintf(options, sizeof options, "--output '%s'", path);
    run(case_path, options);
    check_abs("written", result.code, EXIT_DONE, 0);
    expect("written", result.out, NULL);
    check_is("there", access(path, R_OK), ==, 0);
    check_is("there", remove(path), ==, 0);
    run(case_path, "-o /dev/full");
    check_abs("full", result.code, EXIT_SYSTEM, 0);
}

static json_t *run_example(const char *name, int code)
{
    char path[512];
    snprintf(path, sizeof path, "%s/examples/%s.yaml", SOURCE_DIR, name);
    run(path, "--json");
    check_abs(name, result.code, code, 0);
    return json_of(name);
}

/* 84 - 54 - 24, 60 - 22 - 24 and 36 - 21 - 4, lying on a side; the hatch leaves 22.5 - 21. */
static void test_r22_example(void **state)
{
    (void)state;
    json_t *root = run_example("r22-larger-coil", EXIT_DONE);
    const json_t *unit = unit_of(root, 0), *space = json_object_get(unit, "space");
    const json_t *hatch = json_array_get(json_object_get(unit, "way_in"), 2);
    expect("verdict", text_of(unit, "verdict"), "fits_in_sections");
    expect("tightest", text_of(unit, "tightest"), "attic hatch");
    check_abs("slack", number_of(unit, "slack_in"), 1.5, 1e-9);
    check_that("whole", json_is_false(json_object_get(json_object_get(hatch, "whole"), "passes")));
    check_abs("width", number_of(space, "slack_width_in"), 6, 1e-9);
    check_abs("depth", number_of(space, "slack_depth_in"), 14, 1e-9);
    check_abs("height", number_of(space, "slack_height_in"), 11, 1e-9);
    check_that("lies", json_is_false(json_object_get(space, "upright")));
    json_decref(root);
}

/* Both leave 22.5 - 17.5 of the hatch's width; 57 in under 50 in has to lean, 43 in has not. */
static void test_r410a_example(void **state)
{
    (void)state;
    json_t *root = run_example("r410a-humid", EXIT_DONE);
    check_same_text("square", text_of(unit_of(root, 0), "verdict"), "fits");
    check_same_text("tilted", text_of(unit_of(root, 1), "verdict"), "fits_tilted");
    check_abs("slack", number_of(unit_of(root, 0), "slack_in"), 5, 1e-9);
    check_abs("slack", number_of(unit_of(root, 1), "slack_in"), 5, 1e-9);
    json_decref(root);
    json_decref(run_example("nothing-passes", EXIT_INPUT));
}

static int begin(void **state)
{
    (void)state;
    if (!mkdtemp(scratch)) return -1;
    snprintf(case_path, sizeof case_path, "%s/case.yaml", scratch);
    snprintf(err_path, sizeof err_path, "%s/err", scratch);
    return 0;
}

static int end(void **state)
{
    (void)state;
    return remove(case_path) || remove(err_path) || rmdir(scratch);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_verdicts),         cmocka_unit_test(test_way_in_json),
        cmocka_unit_test(test_service),          cmocka_unit_test(test_filter_blocked),
        cmocka_unit_test(test_candidates),       cmocka_unit_test(test_nothing_to_judge),
        cmocka_unit_test(test_faults_and_files), cmocka_unit_test(test_r22_example),
        cmocka_unit_test(test_r410a_example),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
