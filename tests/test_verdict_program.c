/* A unit that must not be installed: the same first line, exit code and outcome in every verb that
 * takes a case. And what suits, or is only not known, is not refused. */
#include "program.h"

#include "base/exit_codes.h"

static program_result result;

/* A 3 ton unit with a rated valve; all data invented. */
static const char base[] =
    "site: {altitude: 0 ft, outdoor_dry_bulb: 95 F,\n"
    "       indoor_air: {dry_bulb: 75 F, relative_humidity: 50 %%}}\n"
    "house: {sensible_load: 22000 Btu/h, latent_load: 5000 Btu/h, balance_temperature: 68 F}\n"
    "outdoor: {refrigerant: %s, tons: 3 ton, rated_capacity: 35000 Btu/h,\n"
    "          rated_eer: 10.5 Btu/Wh, rated_airflow: 1200 cfm}\n"
    "duct: {static: 0.5 inwc, airflow: 1200 cfm}\n"
    "indoor:\n"
    "  name: the coil\n"
    "  coil: {size: 1.1%s}\n"
    "  metering:\n"
    "    kind: valve\n"
    "    rated_capacity: 3 ton\n"
    "    rated_drop: 120 psi\n"
    "    refrigerant: %s\n"
    "  blower:\n"
    "    motor: psc\n"
    "    static_limit: 0.9 inwc\n"
    "    taps:\n"
    "      - {name: low, points: [[0.1 inwc, 1000 cfm, 310 W], [0.8 inwc, 750 cfm, 270 W]]}\n"
    "      - {name: high, points: [[0.1 inwc, 1420 cfm, 560 W], [0.8 inwc, 1010 cfm, 470 W]]}\n"
    "sweep: {points: 4}\n";

static const char readings[] = "blower: {tap: high}\n"
                               "return_air: {dry_bulb: 75 F, relative_humidity: 50 %}\n"
                               "supply_air: {dry_bulb: 56 F}\n"
                               "outdoor_air: {dry_bulb: 95 F}\n";

typedef struct {
    const char *name, *refrigerant, *coil, *valve;
    const char *why; /* of the refusal; NULL: not refused */
} fit_row;

static const fit_row rows[] = {
    {"coil too weak", "R-410A", ", refrigerant: R-410A, design_pressure: 220 psig", "R-410A",
     "the coil's design pressure, 220 psig, is below"},
    {"valve for another", "R-410A", ", refrigerant: R-410A, design_pressure: 450 psig", "R-22",
     "the valve is made for R-22"},
    {"coil for one of lower pressure", "R-410A", ", refrigerant: R-22", "R-410A",
     "the coil is made for R-22, and R-410A has a much higher pressure"},
    {"flammable in a coil for none", "R-32", ", refrigerant: R-410A, design_pressure: 450 psig",
     "R-32", "R-32 is flammable (A2L), the coil is made for R-410A, which is not"},
    {"everything", "R-410A", ", refrigerant: R-22, design_pressure: 150 psig", "R-22",
     "the valve is made for R-22"},
};

static const fit_row fitting[] = {
    {"coil not stated", "R-410A", "", "R-410A", NULL},
    {"dual coil and valve with a switch", "R-410A", ", refrigerant: 'R-22, R-410A'", "R-22, R-410A",
     NULL},
    {"written with a slash", "R-22", ", refrigerant: R-22/R-407C", "R22 / R407C", NULL},
};

#define COUNT(a) (sizeof(a) / sizeof(a)[0])

typedef struct {
    const char *verb, *more[3];
    const char *page_says; /* NULL: it says it on standard output */
} verb_row;

static char case_path[256], page_path[256], readings_path[256], folder[256], results[256];

static const verb_row verbs[] = {
    {"sweep", {NULL}, NULL},
    {"sweep", {"--quiet"}, NULL},
    {"sweep", {"--uncertain", "20"}, NULL},
    {"compare", {NULL}, NULL},
    {"metering", {NULL}, NULL},
    {"whatif", {NULL}, NULL},
    {"season", {NULL}, NULL},
    {"explain", {"--tap", "high"}, NULL},
    {"explain", {NULL}, NULL},
    {"tune", {readings_path}, NULL},
    {"page", {"--output", page_path}, "Do not install this indoor unit"},
    {"explore", {"--output", page_path}, "DO NOT INSTALL, does not fit: the coil: "},
};

static void write_case(const fit_row *r)
{
    char text[4000];
    snprintf(text, sizeof text, base, r->refrigerant, r->coil, r->valve);
    program_write(case_path, text);
}

static void run_verb(const verb_row *v)
{
    const char *const args[] = {v->verb, case_path, v->more[0], v->more[1], v->more[2], NULL};
    program_run(args, environ, &result);
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

static void check_first_line(const char *label, const char *why)
{
    char first[200];
    const int n = snprintf(first, sizeof first, "DO NOT INSTALL, does not fit: the coil: %s", why);
    const bool good = strncmp(unwrap(result.out), first, (size_t)n) == 0;
    if (!good) print_error("%s: %.300s %.300s\n", label, result.out, result.err);
    check_that(label, good);
}

static void check_page(const char *label, const char *says)
{
    static char page[400000];
    check_that(label, program_read(page_path, page, sizeof page));
    program_expect(label, page, says);
    check_lacks(label, page, "Set the blower");
}

static void every_verb_refuses(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        write_case(&rows[i]);
        for (size_t k = 0; k < COUNT(verbs); k++) {
            char label[160];
            snprintf(label, sizeof label, "%s: %s %s", rows[i].name, verbs[k].verb,
                     verbs[k].more[0] ? verbs[k].more[0] : "");
            run_verb(&verbs[k]);
            check_abs(label, result.code, EXIT_NO_PICK, 0);
            if (!verbs[k].page_says)
                check_first_line(label, rows[i].why);
            else
                check_page(label, verbs[k].page_says);
            check_lacks(label, result.out, "PICK");
            check_lacks(label, result.out, "Pick:");
            print_message("%-30s %-8s %-14s %3d  %.60s\n", rows[i].name, verbs[k].verb,
                          verbs[k].more[0] && verbs[k].more[0][0] == '-' ? verbs[k].more[0] : "",
                          result.code, !verbs[k].page_says ? result.out : "(the sheet says so)");
        }
    }
}

/* Sizes are another question, asked of a box that may not be installed either. */
static void fit_refuses_too(void **state)
{
    (void)state;
    const verb_row fit = {"fit", {NULL}, NULL};
    for (size_t i = 0; i < COUNT(rows); i++) {
        write_case(&rows[i]);
        run_verb(&fit);
        check_abs(rows[i].name, result.code, EXIT_NO_PICK, 0);
        check_first_line(rows[i].name, rows[i].why);
    }
}

static void batch_has_the_outcome(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(rows); i++) {
        const char *const args[] = {"batch", folder, "-o", results, "--fresh", "-q", NULL};
        char name[300];
        static char text[40000];
        write_case(&rows[i]);
        snprintf(name, sizeof name, "%s/case.yaml", folder);
        snprintf(text, sizeof text, base, rows[i].refrigerant, rows[i].coil, rows[i].valve);
        program_write(name, text);
        program_run(args, environ, &result);
        check_abs(rows[i].name, result.code, EXIT_NO_PICK, 0);
        check_that(rows[i].name, program_read(results, text, sizeof text));
        program_expect(rows[i].name, text, ",does_not_fit,");
        print_message("%-30s %-8s %-14s %3d  does_not_fit\n", rows[i].name, "batch", "",
                      result.code);
    }
}

static void programs_learn_it(void **state)
{
    (void)state;
    static const char *const names[] = {"sweep", "compare", "metering", "whatif", "season", "fit"};
    write_case(&rows[1]);
    for (size_t i = 0; i < COUNT(names); i++) {
        const char *const args[] = {names[i], case_path, "--json", NULL};
        program_run(args, environ, &result);
        check_abs(names[i], result.code, EXIT_NO_PICK, 0);
        program_expect(names[i], result.out, "\"fits\": false");
        program_expect(names[i], result.out, "\"valve_refrigerant\"");
    }
}

/* Not known is a question; a valve for several has its switch to be set. */
static void others_are_not_refused(void **state)
{
    (void)state;
    static const char *const says[] = {"Question: the coil's design pressure is not given",
                                       "Reminder: the valve works with R-22, R-410A: set",
                                       "Reminder: the valve works with R22 / R407C: set"};
    for (size_t i = 0; i < COUNT(fitting); i++) {
        write_case(&fitting[i]);
        for (size_t k = 0; k < COUNT(verbs); k++) {
            char label[160];
            snprintf(label, sizeof label, "%s: %s, code", fitting[i].name, verbs[k].verb);
            run_verb(&verbs[k]);
            check_lacks(fitting[i].name, result.out, "DO NOT INSTALL");
            check_abs(label, result.code == EXIT_DOUBT ? EXIT_DONE : result.code, EXIT_DONE, 0);
        }
        run_verb(&verbs[0]);
        program_expect(fitting[i].name, unwrap(result.out), says[i]);
    }
}

/* Odd input is asked about once each, and refuses nothing; a tap point ten times its neighbor is a
 * fault of the file. The changes are made to the text of the first fitting case. */
static void odd_input_is_questioned(void **state)
{
    (void)state;
    static const struct {
        const char *name, *from, *to, *says;
    } odd[] = {
        {"static", "static: 0.5 inwc", "static: 1.4 inwc", "Question: the static measured is 1.40"},
        {"airflow", "airflow: 1200 cfm}\nindoor", "airflow: 500 cfm}\nindoor",
         "Question: the airflow measured on the ducts is 167 cfm"},
        {"a lost zero", "sensible_load: 22000", "sensible_load: 2200",
         "Question: the sensible load is 730 Btu/h per nominal ton"},
        {"load over capacity", "sensible_load: 22000", "sensible_load: 35500",
         "Question: the sensible load, 35,500 Btu/h, is above"},
        {"tons", "tons: 3 ton", "tons: 2 ton", "Question: the rated capacity is 17,500 Btu/h per"},
        {"a tap that rises", "[0.8 inwc, 750 cfm", "[0.8 inwc, 1050 cfm",
         "Question: a blower tap moves more air at more static"},
        {"ten times its neighbor", "[0.8 inwc, 750 cfm", "[0.8 inwc, 75 cfm",
         "the airflow of point 2 is 0.075 times"},
    };
    static char text[4000], changed[4000];
    snprintf(text, sizeof text, base, "R-410A", "", "R-410A");
    for (size_t i = 0; i < COUNT(odd); i++) {
        const char *at = strstr(text, odd[i].from);
        check_that(odd[i].name, at != NULL);
        snprintf(changed, sizeof changed, "%.*s%s%s", (int)(at - text), text, odd[i].to,
                 at + strlen(odd[i].from));
        program_write(case_path, changed);
        run_verb(&verbs[0]);
        const bool fault = i == COUNT(odd) - 1;
        program_expect(odd[i].name, fault ? result.err : unwrap(result.out), odd[i].says);
        check_is(odd[i].name, fault, ==, (result.code == EXIT_INPUT));
    }
}

/* Every verb that has words puts the question, in its own units. */
static void every_verb_asks(void **state)
{
    (void)state;
    static char text[4000], changed[4000];
    const char *const metric[] = {"whatif", case_path, "--si", NULL};
    const char *at;
    snprintf(text, sizeof text, base, "R-410A", "", "R-410A");
    at = strstr(text, "sensible_load: 22000");
    snprintf(changed, sizeof changed, "%.*ssensible_load: 2200 Btu/h%s", (int)(at - text), text,
             strstr(at, ", latent_load"));
    program_write(case_path, changed);
    for (size_t k = 0; k < COUNT(verbs); k++) {
        run_verb(&verbs[k]);
        if (!verbs[k].page_says && !verbs[k].more[0])
            program_expect(verbs[k].verb, unwrap(result.out),
                           "Question: the sensible load is 730 Btu/h per nominal ton, usual is "
                           "3,000 Btu/h to 12,000 Btu/h");
    }
    program_run(metric, environ, &result);
    /* 2200 Btu/h over 3 tons; 3,000 and 12,000 Btu/h: x 0.29307 W (NIST SP 811). */
    program_expect("metric", unwrap(result.out),
                   "is 0.21 kW per nominal ton, usual is 0.88 kW to 3.52 kW");
}

/* Heat that starves on its tap is said in every verb that judges a speed. */
static void every_verb_looks_at_the_heat(void **state)
{
    (void)state;
    static char text[4000], hot[4200];
    snprintf(text, sizeof text, base, "R-410A", "", "R-410A");
    snprintf(hot, sizeof hot, "%slimits: {heat_airflow: 1900 cfm}\n", text);
    program_write(case_path, hot);
    for (size_t k = 0; k < COUNT(verbs); k++) {
        run_verb(&verbs[k]);
        if (!verbs[k].page_says && strcmp(verbs[k].verb, "tune") != 0)
            program_expect(verbs[k].verb, unwrap(result.out),
                           "Heating: nobody said which tap heats, so no speed is judged by it; the "
                           "electric heat needs at least 1,900 cfm");
    }
}

static int make_files(void **state)
{
    if (program_make_scratch(state) != 0) return -1;
    strcpy(case_path, program_path("case.yaml"));
    strcpy(page_path, program_path("page.html"));
    strcpy(readings_path, program_path("readings.yaml"));
    strcpy(folder, program_path("jobs"));
    strcpy(results, program_path("results.csv"));
    program_write(readings_path, readings);
    return mkdir(folder, 0700);
}

/* No speed passes: every verb that shows one shows the same, the nearest. A piston far too
 * small, in place of the valve of an example. */
static void same_when_none_passes(void **state)
{
    static const struct {
        const char *verb, *more[2], *says;
    } shows[] = {
        {"sweep", {NULL}, "fail on metering device; the nearest is low, 908 cfm"},
        {"sweep", {"--full"}, "fail on metering device; the nearest is low, 908 cfm"},
        {"compare", {NULL}, "Blower tap rated low Airflow, cfm 1210 908 "},
        {"metering", {NULL}, "No speed passes; shown: low, 908 cfm"},
        {"explain", {NULL}, "step by step, at tap 'low'"},
        {"page", {"--output", page_path}, "At “low”, which comes nearest: "},
    };
    static char page[400000];
    (void)state;
    for (size_t i = 0; i < COUNT(shows); i++) {
        const char *const args[] = {shows[i].verb,
                                    SOURCE_DIR "/examples/r22-larger-coil.yaml",
                                    "metering=piston",
                                    "bore=0.055in",
                                    shows[i].more[0],
                                    shows[i].more[0] ? shows[i].more[1] : NULL,
                                    NULL};
        program_run(args, environ, &result);
        check_is(shows[i].verb, result.code, ==, EXIT_NO_PICK);
        const bool on_page = strcmp(shows[i].verb, "page") == 0;
        if (on_page) check_that("page", program_read(page_path, page, sizeof page));
        program_expect(shows[i].verb, on_page ? page : unwrap(result.out), shows[i].says);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_verb_refuses),     cmocka_unit_test(fit_refuses_too),
        cmocka_unit_test(batch_has_the_outcome),  cmocka_unit_test(programs_learn_it),
        cmocka_unit_test(others_are_not_refused), cmocka_unit_test(odd_input_is_questioned),
        cmocka_unit_test(every_verb_asks),        cmocka_unit_test(every_verb_looks_at_the_heat),
        cmocka_unit_test(same_when_none_passes)};
    return cmocka_run_group_tests(tests, make_files, program_clear_scratch);
}
