/* Text to number and back. Locales are in test_units. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "check.h"

#define ROWS(a) (sizeof(a) / sizeof(a)[0])

/* Numbers that are hard to round, against the compiler's own reading of the same digits. */
static void test_rounding(void **state)
{
    (void)state;
#define SAME(x)                                                                                    \
    {                                                                                              \
#x, x                                                                                      \
    }
    static const struct {
        const char *text;
        double v;
    } rows[] = {SAME(9007199254740993.0),
                SAME(2.2250738585072014e-308),
                SAME(1.7976931348623157e308),
                SAME(0.1),
                SAME(123456789012345678901234567890.125e-20),
                SAME(000012.500),
                SAME(0.0),
                SAME(1.00000000000000011102230246251565)};
    for (size_t i = 0; i < ROWS(rows); i++) {
        double v;
        const char *end;
        char text[32];
        check_that(rows[i].text, ct_number_read(rows[i].text, &v, &end));
        check_is(rows[i].text, *end, ==, '\0');
        check_abs(rows[i].text, v, rows[i].v, 0.0);
        check_that(rows[i].text, ct_number_read(ct_number_write(v, 17, text, 32), &v, &end));
        check_abs(rows[i].text, v, rows[i].v, 0.0);
    }
    char small[4];
    check_same_text("a short buffer ends in time", ct_number_write(1.25, 3, small, 4), "1.2");
}

/* Short numbers take another way than long ones; the C library's strtod takes one for all. */
static void test_short(void **state)
{
    (void)state;
    unsigned seed = 7;
    for (int i = 0; i < 200000; i++) {
        unsigned r[4];
        for (int k = 0; k < 4; k++)
            r[k] = (seed = seed * 1103515245u + 12345u) >> 16;
        char text[64];
        const int digits = 1 + (int)(r[0] % 17), point = (int)(r[1] % 12);
        const long long whole = ((long long)r[0] << 40 | (long long)r[1] << 25 | r[2] << 10 | r[3]);
        snprintf(text, sizeof text, "%s%0*lld", r[3] % 2 ? "-" : "", digits, whole);
        text[digits + (text[0] == '-')] = '\0';
        const size_t n = strlen(text);
        snprintf(text + n, sizeof text - n, ".%0*de%d", 1 + point % 6, (int)(r[2] % 1000),
                 (int)(r[3] % 50) - 25);
        double v = 0.0;
        const char *end = "";
        check_that(text, ct_number_read(text, &v, &end));
        check_abs(text, v, strtod(text, NULL), 0.0);
        check_is(text, *end, ==, '\0');
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_rounding),
                                       cmocka_unit_test(test_short)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
