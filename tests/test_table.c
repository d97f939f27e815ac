/* Tables: RFC 4180 by its own examples, and overrides of a case against the same text edited. */
#include <stdio.h>
#include <string.h>

#include "base/table.h"
#include "invented_case.h"

typedef struct {
    const char *name, *text;
    int rows, columns;
    const char *last; /* last cell */
    int last_line;    /* line where the last row begins */
} good_row;

/* Sections of RFC 4180, section 2, in brackets. */
static const good_row good[] = {
    {"[1] lines", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", 2, 3, "xxx", 2},
    {"[2] no end of line at the end", "aaa,bbb,ccc\r\nzzz,yyy,xxx", 2, 3, "xxx", 2},
    {"[5] quotes", "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", 2, 3, "xxx", 2},
    {"[6] line end and comma inside", "\"aaa\",\"b\r\nbb\",\"c,cc\"\r\nzzz,yyy,xxx", 2, 3, "xxx",
     3},
    {"[7] doubled quotes", "\"aaa\",\"b\"\"bb\",\"c\"\"\"", 1, 3, "c\"", 1},
    {"bare line feeds", "a,b\nc,d\n", 2, 2, "d", 2},
    {"semicolons of a spreadsheet",
     "\xEF\xBB\xBF"
     "a;b\r\nc;3,5\r\n",
     2, 2, "3,5", 2},
    {"empty lines do not count", "a,b\n\n\nc,d\n", 2, 2, "d", 4},
    {"empty cells do", "a,b,c\n,,\n", 2, 3, "", 2},
    {"byte order mark",
     "\xEF\xBB\xBF"
     "a,b\n1,2\n",
     2, 2, "2", 2},
    {"blanks around", "a , b\n 1 ,\" 2 \"\n", 2, 2, " 2 ", 2},
    {"nothing", "", 0, 0, NULL, 0},
};

static void test_good(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        const good_row *g = &good[i];
        ct_table *t = NULL;
        ct_fault f = {.what = ""};
        if (ct_table_parse(g->text, strlen(g->text), &t, &f) != CT_OK)
            fail_msg("%s: %s", g->name, f.what);
        check_is(g->name, ct_table_rows(t), ==, g->rows);
        check_is(g->name, ct_table_columns(t), ==, g->columns);
        if (g->last) {
            check_same_text(g->name, ct_table_cell(t, g->rows - 1, g->columns - 1), g->last);
            check_is(g->name, ct_table_line(t, g->rows - 1), ==, g->last_line);
        }
        ct_table_free(t);
    }
}

static void test_bad(void **state)
{
    static const struct {
        const char *name, *text;
        size_t size;
        const char *says;
    } rows[] = {
        {"quote not closed", "a,b\n\"1,2\n3,4\n", 0, "line 2: not CSV"},
        {"quote in the middle", "a,b\n1\"x,2\n", 0, "line 2: not CSV"},
        {"text after a quote", "a,b\n\"1\"x,2\n", 0, "line 2: not CSV"},
        {"NUL", "a,b\n1,\0\n", 8, "NUL"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ct_table *t = NULL;
        ct_fault f = {.what = ""};
        const size_t size = rows[i].size ? rows[i].size : strlen(rows[i].text);
        check_is(rows[i].name, ct_table_parse(rows[i].text, size, &t, &f), ==, CT_INPUT);
        if (!strstr(f.what, rows[i].says)) fail_msg("%s: says '%s'", rows[i].name, f.what);
        assert_null(t);
    }
}

/* A row of another length costs no other row a cell. */
static void test_uneven(void **state)
{
    static const char text[] = "a,b\n1\n2,3,4\n5,6\n";
    static const int cells[] = {2, 1, 3, 2};
    ct_table *t;
    (void)state;
    assert_int_equal(ct_table_parse(text, strlen(text), &t, NULL), CT_OK);
    assert_int_equal(ct_table_rows(t), 4);
    for (int i = 0; i < 4; i++)
        assert_int_equal(ct_table_cells(t, i), cells[i]);
    assert_string_equal(ct_table_cell(t, 1, 1), "");
    assert_string_equal(ct_table_cell(t, 2, 2), "4");
    assert_string_equal(ct_table_cell(t, 3, 1), "6");
    check_that("commas", !ct_table_has_semicolons(t));
    ct_table_free(t);
    assert_int_equal(ct_table_parse("a;b\n1;2\n", 8, &t, NULL), CT_OK);
    check_that("semicolons", ct_table_has_semicolons(t));
    ct_table_free(t);
}

/* Long enough to outgrow every block several times. */
static void test_large(void **state)
{
    enum { ROWS = 20000 };
    static char text[ROWS * 16];
    size_t n = 0;
    ct_table *t;
    (void)state;
    for (int i = 0; i < ROWS; i++)
        n += (size_t)snprintf(text + n, sizeof text - n, "%d,\"x%d\"\r\n", i, i);
    assert_int_equal(ct_table_parse(text, n, &t, NULL), CT_OK);
    assert_int_equal(ct_table_rows(t), ROWS);
    assert_string_equal(ct_table_cell(t, ROWS - 1, 1), "x19999");
    assert_int_equal(ct_table_line(t, 12345), 12346);
    ct_table_free(t);
}

/* ---- Overrides ------------------------------------------------------------------- */

static ct_case_report report;
static ct_case over, edited;

static const char base_case[] = INVENTED_CASE "candidates:\n  - {name: other, coil: {size: 1.1}}\n";

static ct_status put(const char *key, const char *text)
{
    const ct_override o = {key, text, 77};
    memset(&over, 0, sizeof over);
    return ct_casefile_parse_over(base_case, strlen(base_case), &(ct_overrides){&o, 1}, &over,
                                  &report, NULL);
}

/* The base case with `from` replaced by `to` in its text. */
static void edit(const char *from, const char *to)
{
    static char text[4 * sizeof base_case];
    const char *at = strstr(base_case, from);
    assert_non_null(at);
    snprintf(text, sizeof text, "%.*s%s%s", (int)(at - base_case), base_case, to,
             at + strlen(from));
    static ct_case_report other;
    memset(&edited, 0, sizeof edited);
    if (ct_casefile_parse(text, strlen(text), &edited, &other, NULL) != CT_OK)
        fail_msg("%s: %s", to, other.fault[0].what);
}

static void test_override_is_edit(void **state)
{
    static const struct {
        const char *key, *text, *from, *to;
    } rows[] = {
        {"outdoor.rated_capacity", "40000 Btu/h", "rated_capacity: 35000 Btu/h",
         "rated_capacity: 40000 Btu/h"},
        {"candidates[1].coil.size", "1.7", "coil: {size: 1.1}", "coil: {size: 1.7}"},
        {"indoor.blower.taps[2].name", "middle", "name: medium", "name: middle"},
        {"limits.frost_guard", "4 F", "limits: {", "limits: {frost_guard: 4 F, "},
        {"duct.static", "0.5 inwc", "{static: 0.62 inwc", "{static: 0.5 inwc"},
        {"house.margin", NULL, "margin: 2 %,", ""},
        {"job", NULL, "job: {title: invented}\n", ""},
        {"house.fan_off_delay", NULL, "", ""},
        {"site.indoor_air.dew_point", "55 F", "wet_bulb: 63 F", "dew_point: 55 F"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (put(rows[i].key, rows[i].text) != CT_OK)
            fail_msg("%s: %s", rows[i].key, report.fault[0].what);
        edit(rows[i].from, rows[i].to);
        check_that(rows[i].key, memcmp(&over, &edited, sizeof over) == 0);
    }
}

static void test_override_faults(void **state)
{
    static const struct {
        const char *name, *key, *text;
        ct_case_fault_kind kind;
    } rows[] = {
        {"unknown", "outdoor.colour", "red", CT_CASE_UNKNOWN_KEY},
        {"unit", "outdoor.rated_capacity", "35 kWh", CT_CASE_UNIT},
        {"range", "outdoor.rated_capacity", "35 Btu/h", CT_CASE_RANGE},
        {"no such item", "candidates[2].coil.size", "1.2", CT_CASE_UNKNOWN_KEY},
        {"item 0", "candidates[0].coil.size", "1.2", CT_CASE_UNKNOWN_KEY},
        {"no list", "outdoor[1].tons", "3 ton", CT_CASE_UNKNOWN_KEY},
        {"through a value", "outdoor.tons.size", "3", CT_CASE_UNKNOWN_KEY},
        {"no path", "outdoor..tons", "3", CT_CASE_UNKNOWN_KEY},
        {"empty path", "", "3", CT_CASE_UNKNOWN_KEY},
        {"bracket left open", "candidates[1", "3", CT_CASE_UNKNOWN_KEY},
        {"a section overwritten", "house", "none", CT_CASE_SHAPE},
        {"required key out", "outdoor.tons", NULL, CT_CASE_MISSING_KEY},
        {"conflict", "indoor.metering.bore", "0.067 in", CT_CASE_CONFLICT},
        {"not UTF-8", "job.title", "\xff", CT_CASE_NOT_TEXT},
        {"control character", "job.title", "a\x01", CT_CASE_NOT_TEXT},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        check_is(rows[i].name, put(rows[i].key, rows[i].text), ==, CT_INPUT);
        bool found = false;
        for (int k = 0; k < report.n_faults; k++)
            found = found || report.fault[k].kind == rows[i].kind;
        check_that(rows[i].name, found);
        if (rows[i].kind != CT_CASE_MISSING_KEY)
            check_is("names the line of the table", report.fault[report.n_faults - 1].line, ==, 77);
    }
}

/* A table may hold everything itself. */
static void test_no_base(void **state)
{
    const ct_override all[] = {
        {"site.outdoor_dry_bulb", "95 F", 2},
        {"site.indoor_air.dry_bulb", "75 F", 2},
        {"site.indoor_air.relative_humidity", "50 %", 2},
        {"house.sensible_load", "24000 Btu/h", 2},
        {"house.latent_load", "4500 Btu/h", 2},
        {"outdoor.refrigerant", "R-22", 2},
        {"outdoor.tons", "3 ton", 2},
        {"outdoor.rated_capacity", "35000 Btu/h", 2},
        {"outdoor.rated_eer", "9 Btu/Wh", 2},
        {"indoor.coil.size", "1.2", 2},
    };
    ct_fault f = {.what = ""};
    (void)state;
    if (ct_casefile_parse_over("", 0, &(ct_overrides){all, (int)(sizeof all / sizeof *all)}, &over,
                               &report, &f) != CT_OK)
        fail_msg("%s", f.what);
    check_abs("size", over.indoor[0].coil.size, 1.2, 1e-15);
    assert_int_equal(ct_casefile_parse_over("", 0, &(ct_overrides){NULL, 0}, &over, &report, &f),
                     CT_INPUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_good),
        cmocka_unit_test(test_bad),
        cmocka_unit_test(test_uneven),
        cmocka_unit_test(test_large),
        cmocka_unit_test(test_override_is_edit),
        cmocka_unit_test(test_override_faults),
        cmocka_unit_test(test_no_base),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
