/* The program on a bare machine: no locale, no home, nothing in the environment but the path. A
 * fresh Debian root has no LANG, and gnuplot then writes only ASCII unless set otherwise. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "program.h"

static const char *const example = SOURCE_DIR "/examples/r22-larger-coil.yaml";

/* Pictures with a degree sign in them, and not one word of complaint. */
static void sweep_in(const char *name, char **environment)
{
    static program_result r;
    const char *folder = program_path(name);
    const char *const args[] = {"sweep", example, "-o", folder, NULL};
    program_run(args, environment, &r);
    check_abs(name, r.code, 0, 0);
    program_expect(name, r.err, NULL);

    static char script[20000];
    char path[512];
    snprintf(path, sizeof path, "%s/coil_temperature.gp", folder);
    check_that("the script is there", program_read(path, script, sizeof script));
    snprintf(path, sizeof path, "%s/coil_temperature.png", folder);
    check_that("the picture is there", program_is_there(path));
}

static void test_no_locale(void **state)
{
    (void)state;
    char bin[] = "PATH=/usr/local/bin:/usr/bin:/bin";
    char all_c[] = "LC_ALL=C", lang_c[] = "LANG=POSIX", absent[] = "LC_ALL=xx_XX.ISO-8859-1";
    char *nothing[] = {bin, NULL}, *plain_c[] = {bin, all_c, NULL};
    char *posix[] = {bin, lang_c, NULL}, *unknown[] = {bin, absent, NULL};
    sweep_in("nothing", nothing);
    sweep_in("LC_ALL=C", plain_c);
    sweep_in("LANG=POSIX", posix);
    sweep_in("a locale that is not installed", unknown);
}

/* The page embeds its pictures: the same without a locale. */
static void test_page_no_locale(void **state)
{
    (void)state;
    static program_result r;
    static char page[2000000];
    char bin[] = "PATH=/usr/local/bin:/usr/bin:/bin";
    char *nothing[] = {bin, NULL};
    const char *file = program_path("job.html");
    const char *const args[] = {"page", example, "-o", file, NULL};
    program_run(args, nothing, &r);
    check_abs("page", r.code, 0, 0);
    program_expect("page", r.err, NULL);
    check_that("the page fits", program_read(file, page, sizeof page));
    check_has("the page has its pictures", page, "<svg");
    check_has("with degree signs", page, "\xc2\xb0");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_no_locale),
                                       cmocka_unit_test(test_page_no_locale)};
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
