/* Batch: forty cases, some of them wrong; parallel as serial, killed and taken up again. */
#include <dirent.h>
#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/read_file.h"
#include "base/table.h"
#include "batch/decimal_comma.h"
#include "batch/items.h"
#include "batch/run.h"
#include "invented_case.h"
#include "judge/pick.h"

enum { CASES = 40 };

static char dir[64]; /* scratch, made for each test */

static const char *in_dir(const char *name)
{
    static char path[8][160];
    static int next;
    char *p = path[next++ % 8];
    snprintf(p, sizeof path[0], "%s/%s", dir, name);
    return p;
}

static void write_text(const char *name, const char *text, size_t size)
{
    FILE *f = fopen(in_dir(name), "wb");
    assert_non_null(f);
    assert_int_equal(fwrite(text, 1, size, f), size);
    assert_int_equal(fclose(f), 0);
}

/* The invented case with another load. */
static void write_case(const char *name, int load)
{
    static const char was[] = "sensible_load: 22500 Btu/h";
    char text[sizeof INVENTED_CASE + 32];
    const char *at = strstr(INVENTED_CASE, was);
    assert_non_null(at);
    const int n = snprintf(text, sizeof text, "%.*ssensible_load: %d Btu/h%s",
                           (int)(at - INVENTED_CASE), INVENTED_CASE, load, at + sizeof was - 1);
    write_text(name, text, (size_t)n);
}

static const struct {
    const char *name, *text, *outcome, *says;
} bad[] = {
    {"cases/bad1.yaml", "site: [", "wrong_input", "not YAML"},
    {"cases/bad2.yaml", "", "wrong_input", "site"},
    {"cases/bad3.yaml", "a\xff", "wrong_input", "UTF-8"},
    {"cases/bad4.yaml", INVENTED_CASE "colour: red\n", "wrong_input", "no such key"},
    {"cases/bad5.yaml", NULL, "unread", "cannot be read"}, /* points nowhere */
};
enum { BAD = sizeof bad / sizeof bad[0] };

static int make_scratch(void **state)
{
    (void)state;
    snprintf(dir, sizeof dir, "/tmp/coiltrim-batch-XXXXXX");
    assert_non_null(mkdtemp(dir));
    assert_int_equal(mkdir(in_dir("cases"), 0700), 0);
    for (int i = 0; i + BAD < CASES; i++) {
        char name[48];
        snprintf(name, sizeof name, "cases/good%02d.yml", i);
        write_case(name, 20000 + 250 * i);
    }
    for (int i = 0; i < BAD; i++)
        if (bad[i].text)
            write_text(bad[i].name, bad[i].text, strlen(bad[i].text));
        else
            assert_int_equal(symlink("nowhere", in_dir(bad[i].name)), 0);
    write_text("cases/notes.txt", "not a case", 10);
    return 0;
}

static int remove_tree(const char *path)
{
    char command[200];
    snprintf(command, sizeof command, "rm -rf '%s'", path);
    return system(command);
}

static int clear_scratch(void **state)
{
    (void)state;
    return remove_tree(dir);
}

static exit_code run(const char *results, int threads, bool fresh)
{
    const batch_plan plan = {.source = in_dir("cases"),
                             .results = in_dir(results),
                             .threads = threads,
                             .fresh = fresh,
                             .quiet = true};
    return batch_run(&plan);
}

static char *slurp(const char *name, size_t *size)
{
    char *text = read_file(in_dir(name), SIZE_MAX, size);
    if (!text) fail_msg("%s: %s", name, strerror(errno));
    return text;
}

static bool exists(const char *name)
{
    struct stat s;
    return stat(in_dir(name), &s) == 0;
}

static void same_files(const char *a, const char *b)
{
    size_t na, nb;
    char *ta = slurp(a, &na), *tb = slurp(b, &nb);
    check_is(b, na, ==, nb);
    check_that(b, memcmp(ta, tb, na) == 0);
    free(ta);
    free(tb);
}

static ct_table *results(const char *name)
{
    size_t n;
    ct_table *t = NULL;
    ct_fault f = {.what = ""};
    char *text = slurp(name, &n);
    if (ct_table_parse(text, n, &t, &f) != CT_OK) fail_msg("%s: %s", name, f.what);
    free(text);
    return t;
}

static const char *cell(const ct_table *t, const char *name, const char *column)
{
    for (int row = 1; row < ct_table_rows(t); row++)
        if (strcmp(ct_table_cell(t, row, 0), name) == 0)
            for (int k = 0; k < ct_table_columns(t); k++)
                if (strcmp(ct_table_cell(t, 0, k), column) == 0) return ct_table_cell(t, row, k);
    fail_msg("no row %s or column %s", name, column);
    return "";
}

/* ---- Results --------------------------------------------------------------------- */

static void test_bad_cases_stop_nothing(void **state)
{
    (void)state;
    assert_int_equal(run("r.csv", 0, false), EXIT_INPUT);
    assert_false(exists("r.csv.part"));
    ct_table *t = results("r.csv");
    assert_int_equal(ct_table_rows(t), CASES + 1);
    for (int i = 0; i < BAD; i++) {
        const char *name = bad[i].name + strlen("cases/");
        assert_string_equal(cell(t, name, "outcome"), bad[i].outcome);
        if (!strstr(cell(t, name, "fault"), bad[i].says))
            fail_msg("%s says '%s'", name, cell(t, name, "fault"));
        assert_string_equal(cell(t, name, "net_total_btuh"), "");
    }
    ct_table_free(t);
}

/* Each row is what the sweep itself comes to. */
static void test_rows_are_the_sweep(void **state)
{
    ct_table *t;
    int picks[4] = {0};
    (void)state;
    run("r.csv", 0, false);
    t = results("r.csv");
    for (int i = 0; i + BAD < CASES; i += 3) {
        char name[32];
        ct_pick pick;
        snprintf(name, sizeof name, "good%02d.yml", i);
        invented_read(INVENTED_CASE);
        inv.c.house.Q_sensible = (20000 + 250 * i) * 1055.05585262 / 3600.0;
        invented_sweep();
        ct_pick_lowest(&inv.job, &inv.sweep, &pick);
        assert_string_equal(cell(t, name, "outcome"), pick.found ? "pick" : "no_pick");
        picks[pick.found ? pick.index : 3]++;
        if (!pick.found) continue;
        const ct_point *p = ct_pick_point(&pick, &inv.sweep);
        assert_string_equal(cell(t, name, "tap"), inv.c.indoor[0].blower.tap[p->tap].name);
        /* Nine digits are written. */
        check_rel(name, strtod(cell(t, name, "net_sensible_btuh"), NULL) * 1055.05585262 / 3600.0,
                  p->balance.Q_sens_net, 1e-8);
    }
    check_that("all kinds of answers", picks[0]);
    check_that("all kinds of answers", picks[1]);
    check_that("all kinds of answers", picks[2]);
    check_that("all kinds of answers", picks[3]);
    ct_table_free(t);
}

static void test_parallel_is_serial(void **state)
{
    (void)state;
    run("serial.csv", 1, false);
    run("four.csv", 4, false);
    same_files("serial.csv", "four.csv");
}

/* ---- Taken up again
 * ------------------------------------------------------------------------------ */

static int rows_in_journal(const char *name)
{
    size_t n;
    char *text = read_file(in_dir(name), SIZE_MAX, &n);
    int rows = 0;
    for (size_t i = 0; text && i < n; i++)
        rows += text[i] == '\n';
    free(text);
    return rows;
}

/* A run of its own process, killed without warning once it has some rows. */
static void killed_run(const char *name, const char *journal)
{
    const pid_t child = fork();
    int status;
    assert_true(child >= 0);
    if (child == 0) {
        for (;;) /* were it done before the kill, it would begin anew */
            run(name, 1, true);
    }
    for (int i = 0; i < 20000 && rows_in_journal(journal) < 8; i++)
        usleep(200);
    kill(child, SIGKILL);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status));
}

static void test_killed_and_taken_up(void **state)
{
    (void)state;
    run("whole.csv", 0, false);
    for (int i = 0; i < 5; i++) {
        killed_run("killed.csv", "killed.csv.part");
        assert_int_equal(run("killed.csv", 0, false), EXIT_INPUT);
        same_files("whole.csv", "killed.csv");
        assert_false(exists("killed.csv.part"));
        unlink(in_dir("killed.csv"));
    }
}

/* At every length a kill may leave: the journal of the results, cut anywhere in three of its rows.
 */
static void test_torn_journal(void **state)
{
    size_t n;
    (void)state;
    run("whole.csv", 0, false);
    char *text = slurp("whole.csv", &n);
    const char *end = text;
    for (int i = 0; i < 9; i++)
        end = strchr(end, '\n') + 1;
    const size_t from = (size_t)(end - text);
    for (size_t cut = from; cut < from + 700 && cut < n; cut += 97) {
        write_text("torn.csv.part", text, cut);
        run("torn.csv", 2, false);
        same_files("whole.csv", "torn.csv");
        unlink(in_dir("torn.csv"));
    }
    write_text("torn.csv.part", text, 40); /* half a header */
    run("torn.csv", 2, false);
    same_files("whole.csv", "torn.csv");
    free(text);
}

/* Writes INVENTED into the row of that case, and the right check (FNV-1a over its cells with a NUL
 * behind each, the check itself left out) if `sealed`. */
static void mark_row(char *text, size_t n, const char *name, bool sealed)
{
    char *at = strstr(text, name), check[17];
    char *stamp = strchr(at, '\n') - 33; /* the last cell, of 32, before a carriage return */
    uint64_t hash = BATCH_HASH;
    ct_table *t;
    memcpy(strstr(at, "invented"), "INVENTED", 8);
    assert_int_equal(ct_table_parse(text, n, &t, NULL), CT_OK);
    for (int row = 1; row < ct_table_rows(t); row++)
        for (int k = 0; k < ct_table_columns(t) && strcmp(ct_table_cell(t, row, 0), name) == 0;
             k++) {
            const char *cell = ct_table_cell(t, row, k);
            hash = batch_items_hash(hash, cell, k == ct_table_columns(t) - 1 ? 16 : strlen(cell));
            hash = batch_items_hash(hash, "", 1);
        }
    ct_table_free(t);
    snprintf(check, sizeof check, "%016llx", (unsigned long long)hash);
    if (sealed) memcpy(stamp + 16, check, 16);
}

/* A row that is taken over is not worked out again: a mark put into it survives when its check is
 * right. Without that, the row was edited, and is worked out again. */
static void test_done_rows_are_kept(void **state)
{
    size_t n;
    (void)state;
    run("r.csv", 0, false);
    char *text = slurp("r.csv", &n);
    mark_row(text, n, "good03.yml", true);
    mark_row(text, n, "good06.yml", false);
    write_text("r.csv", text, n);
    write_case("cases/good04.yml", 21100);
    run("r.csv", 0, false);
    ct_table *t = results("r.csv");
    assert_string_equal(cell(t, "good03.yml", "title"), "INVENTED");
    assert_string_equal(cell(t, "good06.yml", "title"), "invented");
    ct_table_free(t);

    /* A case that has changed is worked out again. */
    write_case("cases/good03.yml", 20800);
    run("r.csv", 0, false);
    t = results("r.csv");
    assert_string_equal(cell(t, "good03.yml", "title"), "invented");
    ct_table_free(t);

    /* So is everything with `fresh`. */
    mark_row(text, n, "good05.yml", true);
    write_text("r.csv", text, n);
    run("r.csv", 0, true);
    t = results("r.csv");
    assert_string_equal(cell(t, "good05.yml", "title"), "invented");
    ct_table_free(t);
    free(text);
}

/* What could not be read may be there the next time. */
static void test_unread_is_tried_again(void **state)
{
    (void)state;
    run("r.csv", 0, false);
    unlink(in_dir("cases/bad5.yaml"));
    write_case("cases/bad5.yaml", 20500);
    run("r.csv", 0, false);
    ct_table *t = results("r.csv");
    assert_string_equal(cell(t, "bad5.yaml", "outcome"), "pick");
    ct_table_free(t);
}

/* A file of another form under the journal's name is not taken for rows. */
static void test_foreign_results(void **state)
{
    (void)state;
    run("whole.csv", 0, false);
    write_text("r.csv", "case,stamp\r\ngood01.yml,0\r\n", 26);
    run("r.csv", 0, false);
    same_files("whole.csv", "r.csv");
}

static void test_two_runs_at_once(void **state)
{
    (void)state;
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0)
        for (;;)
            run("r.csv", 1, true);
    while (rows_in_journal("r.csv.part") < 3)
        usleep(200);
    kill(child, SIGSTOP); /* it holds its journal now, or is between two runs */
    usleep(1000);
    const exit_code code = rows_in_journal("r.csv.part") > 0 ? run("r.csv", 1, false) : EXIT_SYSTEM;
    kill(child, SIGKILL);
    waitpid(child, NULL, 0);
    assert_int_equal(code, EXIT_SYSTEM);
}

/* ---- Tables
 * -------------------------------------------------------------------------------------- */

static exit_code run_table(const char *table, const char *base)
{
    const batch_plan plan = {.source = in_dir(table),
                             .base = base ? in_dir(base) : NULL,
                             .results = in_dir("t.csv"),
                             .quiet = true};
    return batch_run(&plan);
}

static void test_table_is_edited_cases(void **state)
{
    static const char text[] = "case,house.sensible_load,house.margin,outdoor.rated_capacity\n"
                               "good00.yml,20000 Btu/h,,\n"
                               "good06.yml,21500 Btu/h,,\n"
                               "no margin,21500 Btu/h,-,\n"
                               "wrong,21500 Btu/h,,35 kWh\n";
    (void)state;
    write_text("table", text, sizeof text - 1);
    write_text("base.yaml", INVENTED_CASE, sizeof INVENTED_CASE - 1);
    assert_int_equal(run_table("table", "base.yaml"), EXIT_INPUT);
    run("r.csv", 0, false);
    ct_table *t = results("t.csv"), *r = results("r.csv");
    assert_int_equal(ct_table_rows(t), 5);
    for (int k = 1; k + 1 < ct_table_columns(t); k++) { /* between case and stamp */
        const char *column = ct_table_cell(t, 0, k);
        assert_string_equal(cell(t, "good00.yml", column), cell(r, "good00.yml", column));
        assert_string_equal(cell(t, "good06.yml", column), cell(r, "good06.yml", column));
    }
    const double with = strtod(cell(t, "good06.yml", "load_carried_btuh"), NULL);
    const double without = strtod(cell(t, "no margin", "load_carried_btuh"), NULL);
    check_rel("2 % margin taken out", without, 1.02 * with, 1e-8);
    assert_non_null(strstr(cell(t, "wrong", "fault"), "line 5"));
    assert_non_null(strstr(cell(t, "wrong", "fault"), "outdoor.rated_capacity"));
    ct_table_free(t);
    ct_table_free(r);
}

/* A cell takes the place of what the base says in another way, and two in one row do not go
 * together. */
static void test_cells_replace(void **state)
{
    static const char text[] = "case,metering,bore,indoor.metering.rated_capacity,"
                               "rated_drop,wet_bulb,humidity\n"
                               "base,,,,,,\n"
                               "another valve,,,2.5 ton,120 psi,,\n"
                               "piston,piston,67,,,,\n"
                               "humidity,,,,,,50%\n"
                               "both devices,piston,67,2.5 ton,120 psi,,\n"
                               "both humidities,,,,,62 F,50%\n";
    static const char *const answered[] = {"base", "another valve", "piston", "humidity"};
    static const char valve[] = "  metering: {superheat: 9 F}\n", indoor[] = "indoor:\n";
    char base[sizeof INVENTED_CASE + sizeof valve];
    (void)state;
    const char *rest = strstr(INVENTED_CASE, indoor) + strlen(indoor);
    snprintf(base, sizeof base, "%.*s%s%s", (int)(strlen(INVENTED_CASE) - strlen(rest)),
             INVENTED_CASE, valve, rest);
    write_text("table", text, sizeof text - 1);
    write_text("base.yaml", base, strlen(base));
    assert_int_equal(run_table("table", "base.yaml"), EXIT_INPUT);
    ct_table *t = results("t.csv");
    for (size_t i = 0; i < sizeof answered / sizeof *answered; i++)
        assert_string_equal(cell(t, answered[i], "fault"), "");
    assert_non_null(strstr(cell(t, "both devices", "fault"), "a piston has none"));
    assert_non_null(strstr(cell(t, "both humidities", "fault"), "contradicts"));
    ct_table_free(t);
}

static void test_table_faults(void **state)
{
    static const struct {
        const char *name, *text, *base;
        exit_code code;
    } rows[] = {
        {"unknown key", "outdoor.colour\nred\n", "base.yaml", EXIT_INPUT},
        {"misspelt item", "candidates[1].coil.sise\n1\n", "base.yaml", EXIT_INPUT},
        {"key twice", "outdoor.tons,outdoor.tons\n3 ton,3 ton\n", "base.yaml", EXIT_INPUT},
        {"name twice", "case,outdoor.tons\na,3 ton\na,2 ton\n", "base.yaml", EXIT_INPUT},
        {"no rows", "outdoor.tons\n", "base.yaml", EXIT_INPUT},
        {"empty", "", "base.yaml", EXIT_INPUT},
        {"no base there", "outdoor.tons\n3 ton\n", "nothing.yaml", EXIT_SYSTEM},
    };
    (void)state;
    write_text("base.yaml", INVENTED_CASE, sizeof INVENTED_CASE - 1);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        write_text("table", rows[i].text, strlen(rows[i].text));
        check_is(rows[i].name, run_table("table", rows[i].base), ==, rows[i].code);
        check_that("nothing is written", !exists("t.csv"));
        check_that("nothing is written", !exists("t.csv.part"));
    }
    write_text("table", "candidates[1].coil.size,indoor.blower.taps[3].name\n1,x\n", 55);
    assert_int_equal(run_table("table", "base.yaml"), EXIT_INPUT); /* known keys, no such item */
    assert_true(exists("t.csv"));
}

/* A row that is too short or too long is its own fault, and the others go on. */
static void test_uneven_rows(void **state)
{
    static const char text[] = "case,house.sensible_load,house.margin\na,20000 Btu/h,\nshort\n"
                               "long,20000 Btu/h,,1\nb,21000 Btu/h,2 %\n";
    (void)state;
    write_text("base.yaml", INVENTED_CASE, sizeof INVENTED_CASE - 1);
    write_text("table", text, sizeof text - 1);
    assert_int_equal(run_table("table", "base.yaml"), EXIT_INPUT);
    ct_table *t = results("t.csv");
    assert_string_equal(cell(t, "a", "outcome"), "pick");
    assert_string_equal(cell(t, "b", "outcome"), "pick");
    assert_string_equal(cell(t, "short", "outcome"), "wrong_input");
    assert_string_equal(cell(t, "short", "fault"), "line 3: 1 cells where the header has 3");
    assert_string_equal(cell(t, "long", "fault"), "line 4: 4 cells where the header has 3");
    static const char *const first[] = {"case", "outcome", "fault", "tap"};
    for (int k = 0; k < 4; k++)
        assert_string_equal(ct_table_cell(t, 0, k), first[k]);
    ct_table_free(t);
}

/* What a spreadsheet of a country with a decimal comma writes. */
static void test_decimal_comma(void **state)
{
    static const struct {
        const char *cell, *read; /* NULL: refused */
    } rows[] = {{"0,62 inwc", "0.62 inwc"},
                {"1.234,5 m3/h", "1234.5 m3/h"},
                {"36000 Btu/h", "36000 Btu/h"},
                {"7,5 kW", "7.5 kW"},
                {"12.5 kW", "12.5 kW"},
                {"0,625 inwc", "0.625 inwc"},
                {"1.234.567", "1234567"},
                {"R-410A", "R-410A"},
                {"50 %", "50 %"},
                {"36,000 Btu/h", NULL},
                {"1,234.5 m3/h", NULL},
                {"36.000 Btu/h", NULL}};
    static const char text[] = "\xEF\xBB\xBF"
                               "case;house.sensible_load;duct.static;job.title\r\n"
                               "point;6,594 kW;0.62 inwc;a\r\ncomma;6594,0 W;0,62 inwc;1,234\r\n";
    char out[64];
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const bool read = decimal_comma_read(rows[i].cell, out, sizeof out);
        check_is(rows[i].cell, read, ==, (rows[i].read != NULL));
        if (read) assert_string_equal(out, rows[i].read);
    }
    write_text("base.yaml", INVENTED_CASE, sizeof INVENTED_CASE - 1);
    write_text("table", text, sizeof text - 1);
    assert_int_equal(run_table("table", "base.yaml"), EXIT_INPUT);
    ct_table *t = results("t.csv");
    assert_string_equal(cell(t, "comma", "outcome"), "pick");
    assert_string_equal(cell(t, "comma", "title"), "1,234"); /* text stays as it is */
    assert_string_equal(cell(t, "point", "outcome"), "wrong_input");
    assert_non_null(strstr(cell(t, "point", "fault"), "thousands or decimals"));
    ct_table_free(t);
}

/* Two processes at once, a share each; their results joined are those of one run. */
static void test_shares_join(void **state)
{
    char joined[400];
    int status;
    (void)state;
    assert_int_equal(run("whole.csv", 0, false), EXIT_INPUT);
    pid_t child[2];
    for (int k = 0; k < 2; k++) {
        child[k] = fork();
        assert_true(child[k] >= 0);
        if (child[k] == 0) {
            const batch_plan plan = {.source = in_dir("cases"),
                                     .results = in_dir(k ? "2.csv" : "1.csv"),
                                     .part = k + 1,
                                     .parts = 2,
                                     .threads = 1,
                                     .quiet = true};
            _exit((int)batch_run(&plan));
        }
    }
    for (int k = 0; k < 2; k++)
        assert_true(waitpid(child[k], &status, 0) == child[k] && WIFEXITED(status));
    snprintf(joined, sizeof joined, "cd %s && cat 1.csv 2.csv > joined.csv", dir);
    assert_int_equal(system(joined), 0);
    same_files("whole.csv", "joined.csv");

    /* A share that was done is taken up as done, though it has no header. */
    const batch_plan again = {.source = in_dir("cases"),
                              .results = in_dir("2.csv"),
                              .part = 2,
                              .parts = 2,
                              .quiet = true};
    batch_run(&again);
    snprintf(joined, sizeof joined, "cd %s && cat 1.csv 2.csv > joined.csv", dir);
    assert_int_equal(system(joined), 0);
    same_files("whole.csv", "joined.csv");

    /* More shares than cases: some are empty, and they still join. */
    for (int k = 1; k <= CASES + 3; k++) {
        char name[32];
        snprintf(name, sizeof name, "p%02d.csv", k);
        const batch_plan plan = {.source = in_dir("cases"),
                                 .results = in_dir(name),
                                 .part = k,
                                 .parts = CASES + 3,
                                 .threads = 1,
                                 .quiet = true};
        batch_run(&plan);
    }
    snprintf(joined, sizeof joined, "cd %s && cat p??.csv > joined.csv", dir);
    assert_int_equal(system(joined), 0);
    same_files("whole.csv", "joined.csv");
}

/* Pairs stand over what the rows say, and another pair is another run. */
static void test_pairs_change_every_case(void **state)
{
    const ct_override margin = {"house.margin", "1 %", CT_LINE_OF_PAIR};
    batch_plan plan = {.source = in_dir("cases"), .results = in_dir("r.csv"), .quiet = true};
    (void)state;
    batch_run(&plan);
    ct_table *t = results("r.csv");
    const double before = strtod(cell(t, "good00.yml", "load_carried_btuh"), NULL);
    ct_table_free(t);
    plan.pairs = (ct_overrides){&margin, 1};
    batch_run(&plan);
    t = results("r.csv");
    const double now = strtod(cell(t, "good00.yml", "load_carried_btuh"), NULL);
    check_rel("margin 2 % before, 1 % now", now, before * 1.02 / 1.01, 1e-8);
    ct_table_free(t);
}

static void test_no_such_source(void **state)
{
    const batch_plan plan = {.source = in_dir("nowhere"), .results = in_dir("t.csv")};
    const batch_plan both = {
        .source = in_dir("cases"), .base = in_dir("cases/good00.yml"), .results = in_dir("t.csv")};
    (void)state;
    assert_int_equal(batch_run(&plan), EXIT_SYSTEM);
    assert_int_equal(batch_run(&both), EXIT_USAGE);
    const batch_plan lone = {.source = in_dir("cases/good00.yml"), .results = in_dir("t.csv")};
    assert_int_equal(batch_run(&lone), EXIT_USAGE); /* one case is no table of jobs */
    const batch_plan nowhere = {
        .source = in_dir("cases"), .results = in_dir("no/folder/t.csv"), .quiet = true};
    assert_int_equal(batch_run(&nowhere), EXIT_SYSTEM);
}

#define TEST(f) cmocka_unit_test_setup_teardown(f, make_scratch, clear_scratch)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_bad_cases_stop_nothing),
        TEST(test_rows_are_the_sweep),
        TEST(test_parallel_is_serial),
        TEST(test_killed_and_taken_up),
        TEST(test_torn_journal),
        TEST(test_done_rows_are_kept),
        TEST(test_unread_is_tried_again),
        TEST(test_foreign_results),
        TEST(test_two_runs_at_once),
        TEST(test_table_is_edited_cases),
        TEST(test_cells_replace),
        TEST(test_table_faults),
        TEST(test_uneven_rows),
        TEST(test_decimal_comma),
        TEST(test_shares_join),
        TEST(test_pairs_change_every_case),
        TEST(test_no_such_source),
    };
    return cmocka_run_group_tests(tests, NULL, invented_free);
}
