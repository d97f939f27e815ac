/* Notes: what leans on more than its data reaches the reader, in text, JSON and on the page; and an
 * ordinary case has none. */
#include "program.h"

#include <jansson.h>

#include "judge/notes.h"

static program_result result;

/* A 3 ton R-410A unit with a case-specific coil, blower and weather; all data invented. */
static const char base[] =
    "site: {altitude: 0 ft, outdoor_dry_bulb: 95 F,\n"
    "       indoor_air: {dry_bulb: 75 F, relative_humidity: 50 %%}}\n"
    "house: {sensible_load: 24000 Btu/h, latent_load: %s, balance_temperature: 68 F%s}\n"
    "outdoor: {refrigerant: R-410A, tons: 3 ton, rated_capacity: 35000 Btu/h,\n"
    "          rated_eer: 10.5 Btu/Wh, rated_airflow: 1200 cfm%s}\n"
    "duct: {static: %s, airflow: 1200 cfm}\n"
    "indoor:\n"
    "  coil: {%s}\n"
    "  metering: {%s}\n"
    "  blower:\n"
    "    motor: psc\n"
    "    static_limit: 0.9 inwc\n"
    "    taps:\n"
    "      - {name: low, points: [[0.1 inwc, 1000 cfm, 310 W], [0.8 inwc, 750 cfm, 270 W]]}\n"
    "      - {name: high, points: [[0.1 inwc, 1420 cfm, 560 W], [0.8 inwc, 1010 cfm, 470 W]]}\n"
    "sweep: {points: 4}\n";

typedef struct {
    const char *note; /* NULL: none */
    const char *says; /* a part of its sentence */
    const char *latent, *house, *outdoor, *duct, *coil, *metering;
} note_row;

#define ORDINARY_COIL "size: 1.15"
#define VALVE "kind: valve"

/* Two have no row: no house was found that settles beyond the humidities tried, with the blower
 * left on or not. */
static const note_row rows[] = {
    {NULL, NULL, "5000 Btu/h", "", "", "0.5 inwc", ORDINARY_COIL, VALVE},
    {"piston_bore_range", "0.043 to 0.067 in", "5000 Btu/h", "", "", "0.5 inwc", ORDINARY_COIL,
     "kind: orifice, bore: 0.072 in, length: 0.5 in"},
    {"piston_length_range", "0.374 to 1.000 in", "5000 Btu/h", "", "", "0.5 inwc", ORDINARY_COIL,
     "kind: orifice, bore: 0.066 in, length: 0.3 in"},
    {"piston_subcooling_range", "up to 25.2 F", "5000 Btu/h", "", ", subcooling: 27 F", "0.5 inwc",
     ORDINARY_COIL, "kind: orifice, bore: 0.058 in, length: 0.5 in"},
    {"near_flood", "less than 5 F of superheat", "5000 Btu/h", "", ", subcooling: 10 F", "0.5 inwc",
     ORDINARY_COIL, "kind: orifice, bore: 0.068 in, length: 0.5 in"},
    {"hot_flood", "hotter than the design day", "5000 Btu/h", "", "", "0.5 inwc", ORDINARY_COIL,
     "kind: orifice, bore: 0.067 in, length: 0.5 in"},
    {"starved", "fit a larger piston", "5000 Btu/h", "", "", "0.5 inwc", ORDINARY_COIL,
     "kind: orifice, bore: 0.056 in, length: 0.5 in"},
    {"piston_gas", "it passes less", "5000 Btu/h", "", ", subcooling: 2 F, liquid_line_lift: 80 ft",
     "0.5 inwc", ORDINARY_COIL, "kind: orifice, bore: 0.066 in, length: 0.5 in"},
    {"line_gas", "gas comes with the liquid", "5000 Btu/h", "",
     ", subcooling: 3 F, liquid_line_lift: 60 ft", "0.5 inwc", ORDINARY_COIL, VALVE},
    {NULL, NULL, "5000 Btu/h", "", ", liquid_line_lift: 20 ft, liquid_line_length: 50 ft",
     "0.5 inwc", ORDINARY_COIL, VALVE},
    {"charge_gas", "the charge leaves no subcooling", "5000 Btu/h", "", ", subcooling: 0 F",
     "0.5 inwc", ORDINARY_COIL, "kind: orifice, bore: 0.066 in, length: 0.5 in"},
    {"blower_table", "below the first point", "5000 Btu/h", "", "", "0.05 inwc", ORDINARY_COIL,
     VALVE},
    {"part_load_short", "is not carried", "5000 Btu/h", ", humidity_load: 120 %", "", "0.5 inwc",
     ORDINARY_COIL, VALVE},
    {"fin_range", "data of the fin equation", "5000 Btu/h", "",
     "}\nmatched_coil: {face_area: 4.5 ft2, rows: 3, fin_spacing: 14 fins/in, "
     "tube_diameter: 0.375 in, circuits: 6",
     "0.5 inwc",
     "geometry: {face_area: 0.6 ft2, rows: 6, fin_spacing: 12 fins/in, tube_diameter: 0.375 in, "
     "circuits: 6}",
     VALVE},
};

/* Places in the rows. */
enum { HOT_FLOOD = 5, STARVED = 6 };

static const char *write_case(const note_row *r)
{
    char text[4000];
    const char *path = program_path("case.yaml");
    snprintf(text, sizeof text, base, r->latent, r->house, r->outdoor, r->duct, r->coil,
             r->metering);
    program_write(path, text);
    return path;
}

/* Line breaks and indents become single blanks. */
static const char *unwrap(char *text)
{
    char *to = text;
    for (const char *c = text; *c; c++)
        if (*c != '\n' && !(*c == ' ' && to > text && to[-1] == ' '))
            *to++ = *c;
        else if (to > text && to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
    return text;
}

/* Whether a point of this list has the note, and at how many there is any. */
static bool has_note(const json_t *list, const char *token, int *any)
{
    size_t i, k;
    json_t *point, *note;
    bool found = false;
    json_array_foreach(list, i, point)
    {
        *any += json_array_size(json_object_get(point, "notes")) > 0;
        json_array_foreach(json_object_get(point, "notes"), k, note)
        {
            const char *name = json_string_value(json_object_get(note, "note"));
            if (token && name && strcmp(name, token) == 0) found = true;
        }
    }
    return found;
}

static void notes_reach_the_reader(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const note_row *r = &rows[i];
        const char *name = r->note ? r->note : "ordinary";
        char path[256];
        strcpy(path, write_case(r));
        const char *const text[] = {"sweep", path, "--full", NULL};
        const char *const json[] = {"sweep", path, "--json", NULL};
        json_error_t e;
        int any = 0;
        program_run(json, environ, &result);
        json_t *root = json_loads(result.out, 0, &e);
        if (!root) print_error("%s: %s\n", name, result.err);
        check_that(name, root != NULL);
        const bool found = has_note(json_object_get(root, "taps"), r->note, &any);
        check_that(name, r->note ? found : any == 0);
        json_decref(root);
        program_run(text, environ, &result);
        if (r->note)
            program_expect(name, unwrap(result.out), r->says);
        else
            check_lacks(name, result.out, "Note");
    }
}

/* A day too hot for the rule has no target superheat: no piston is far above it, however dry. */
static void no_target_is_not_missed(void **state)
{
    (void)state;
    const char *const args[] = {"sweep", write_case(&rows[STARVED]), "outdoor=115F", "--json",
                                NULL};
    json_error_t e;
    int any = 0;
    program_run(args, environ, &result);
    json_t *root = json_loads(result.out, 0, &e), *taps = json_object_get(root, "taps");
    check_is("taps", json_array_size(taps), ==, 2);
    check_that("no target is named", !has_note(taps, "starved", &any));
    json_decref(root);
}

/* The other verbs show a point's notes too, the one that could hurt first of all. */
static void every_verb_shows_them(void **state)
{
    (void)state;
    static char page[400000];
    char path[256], html[256];
    strcpy(path, write_case(&rows[HOT_FLOOD]));
    strcpy(html, program_path("page.html"));
    const char *const explain[] = {"explain", path, "--tap", "high", NULL};
    const char *const job_page[] = {"page", path, "-o", html, NULL};
    static const char *const verbs[] = {"sweep", "metering", "compare", "whatif", "season"};
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        const char *const args[] = {verbs[i], path, NULL}, *const json[] = {verbs[i], path,
                                                                            "--json", NULL};
        program_run(args, environ, &result);
        program_expect(verbs[i], unwrap(result.out), "liquid may reach the compressor");
        program_run(json, environ, &result);
        program_expect(verbs[i], result.out, "\"note\": \"hot_flood\"");
    }
    program_run(explain, environ, &result);
    program_expect("explain", unwrap(result.out), "liquid may reach the compressor");
    program_run(job_page, environ, &result);
    check_that("page is read", program_read(html, page, sizeof page));
    program_expect("page, customer", page, "on a 105 °F day liquid refrigerant may reach");
    const char *const says = "105.0 °F outdoors: liquid may reach the compressor";
    const char *const set = strstr(page, says), *const start = strstr(page, "id=\"start-up\"");
    check_that("page, setting", set && start && set < start);
    check_that("page, readings", strstr(start, says) != NULL);
}

/* Where no speed passes the device is not passed over; little and much superheat have marks of
 * their own, at speeds that fail as well; and a note says which speeds it is about. */
static void notes_name_their_speeds(void **state)
{
    (void)state;
    char path[256];
    strcpy(path, write_case(&rows[HOT_FLOOD]));
    const struct {
        const char *args[6], *says[3];
    } runs[] = {
        {{"sweep", path, "bore=0.062in"}, {"Note, at high: the piston leaves over 10 F", " ~"}},
        {{"sweep", "tons=3", "metering=piston", "bore=0.061in"},
         {"to 500 cfm/ton: the piston leaves over 10 F", " ~: too much superheat; see the notes."}},
        {{"sweep", SOURCE_DIR "/examples/r22-larger-coil.yaml", "metering=piston", "bore=0.067in"},
         {", the pick among them: on a day 10 F", "; ~: too much; see the notes."}},
        {{"sweep", path, "bore=0.085in", "sensible_load=60000Btu/h"},
         {"+ *", " *: too little superheat, now or on a hotter day; see `metering`."}},
        {{"sweep", path, "bore=0.085in", "sensible_load=60000Btu/h", "--full"},
         {"Note: the piston leaves less than 5 F of superheat"}},
        {{"whatif", path, "bore=0.085in"}, {"Note: the piston leaves less than 5 F"}},
        {{"season", path, "bore=0.085in"}, {"Note: the piston leaves less than 5 F"}}};
    for (size_t i = 0; i < sizeof runs / sizeof runs[0]; i++) {
        program_run(runs[i].args, environ, &result);
        unwrap(result.out);
        for (int k = 0; k < 3 && runs[i].says[k]; k++)
            program_expect(runs[i].says[k], result.out, runs[i].says[k]);
    }
}

/* Superheat a piston loses from a mild day to the design day: by the target rule, half a degree for
 * each degree outdoors, 10 F here (common practice, no source). Within a factor of two: the rule is
 * one line for all systems. R-22, for whose systems the rule was made. */
static void superheat_falls_as_the_rule_has_it(void **state)
{
    (void)state;
    const char *const args[] = {"metering",        SOURCE_DIR "/examples/r22-larger-coil.yaml",
                                "metering=piston", "bore=0.067in",
                                "--json",          NULL};
    double mild = NAN, design = NAN;
    json_error_t e;
    size_t k;
    json_t *row;
    program_run(args, environ, &result);
    json_t *root = json_loads(result.out, 0, &e);
    json_array_foreach(json_object_get(root, "piston"), k, row)
    {
        const double T = json_number_value(json_object_get(row, "outdoor_dry_bulb_f"));
        const double superheat = json_number_value(json_object_get(row, "superheat_f"));
        if (fabs(T - 75) < 0.01) mild = superheat;
        if (fabs(T - 95) < 0.01) design = superheat;
    }
    json_decref(root);
    check_is("falls", mild - design, >, 5.0);
    check_is("not by far more", mild - design, <, 20.0);
}

/* A house beyond the humidities the balances reach: the search goes after it, so no ordinary case
 * gets there. */
static void room_notes(void **state)
{
    (void)state;
    const ct_room_out usual = {.rh = 0.5}, beyond = {.rh = 0.9, .extrapolated = true};
    assert_int_equal(ct_notes_of_room(&usual, &usual), 0);
    assert_int_equal(ct_notes_of_room(&usual, &beyond), CT_NOTE_FAN_ON_RANGE);
    assert_int_equal(ct_notes_of_room(&beyond, &usual), CT_NOTE_ROOM_RANGE);
    assert_int_equal(ct_notes_of_room(NULL, NULL), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(notes_reach_the_reader),
                                       cmocka_unit_test(no_target_is_not_missed),
                                       cmocka_unit_test(superheat_falls_as_the_rule_has_it),
                                       cmocka_unit_test(every_verb_shows_them),
                                       cmocka_unit_test(notes_name_their_speeds),
                                       cmocka_unit_test(room_notes)};
    check_is("every other note has a row, two of the rows none", sizeof rows / sizeof rows[0], ==,
             CT_NOTE_COUNT);
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
