#include "case/gauge_log.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/number.h"
#include "base/steady.h"
#include "base/table.h"
#include "case/note.h"
#include "case/readings_keys.h"

enum { NAME, VALUE, UNIT, TIME, COLUMNS };
static const char *const columns[COLUMNS] = {"name", "value", "unit", "time"};

#define DAY 86400.0
#define MINUTE 60.0
#define FARTHEST 1e12 /* s; past it a count of seconds has no fine digits left */

/* Keys of a readings file that are no readings. */
static const char *const words[] = {"blower.tap", "outdoor_unit.stage", "notes"};
enum { WORDS = (int)(sizeof words / sizeof *words) };

typedef struct {
    const ct_table *table;
    int at[COLUMNS];
    int line; /* of the row at hand */
    int first_line[CT_READING_COUNT];
    const char *unit[CT_READING_COUNT]; /* in that line */
    ct_steady_sample *sample;
    int n;
    double latest;           /* time of the row before; NaN at first */
    const char *word[WORDS]; /* NULL: not given */
    int word_line[WORDS];
    ct_case_report *report;
} reader;

/* ---- Cells ------------------------------------------------------------------------- */

static const char *cell(const reader *r, int row, int column)
{
    return ct_table_cell(r->table, row, r->at[column]);
}

static bool number(const reader *r, const char *text, double *v)
{
    char copy[40];
    const char *end;
    snprintf(copy, sizeof copy, "%s", text);
    if (ct_table_has_semicolons(r->table))
        for (char *c = copy; *c; c++)
            if (*c == ',') *c = '.';
    return strlen(text) < sizeof copy && ct_number_read(copy, v, &end) && *end == '\0';
}

/* "120", "14:05" or "14:05:30"; a clock that goes back by half a day has passed midnight. */
static bool time_of(reader *r, const char *text, double *t)
{
    int hour, minute, used = 0;
    double second = 0.0;
    if (number(r, text, t)) return fabs(*t) <= FARTHEST;
    /* NOLINTNEXTLINE(cert-err34-c): two digits fit an int. */
    if (sscanf(text, "%2d:%2d%n", &hour, &minute, &used) < 2 || hour < 0 || minute < 0 ||
        minute > 59)
        return false;
    if (text[used] == ':' ? !number(r, text + used + 1, &second) : text[used] != '\0') return false;
    if (!(second >= 0.0 && second < 60.0)) return false;
    *t = 3600.0 * hour + 60.0 * minute + second;
    const double behind = r->latest - 0.5 * DAY - *t;
    if (behind > 0.0) *t += DAY * ceil(behind / DAY);
    return true;
}

/* A wrong name or unit is on every tenth line of a log: once is enough. */
static bool is_said(const ct_case_report *report, ct_case_fault_kind kind, const char *key)
{
    for (int i = 0; i < report->n_faults && i < CT_MAX_CASE_FAULTS; i++)
        if (report->fault[i].kind == kind && strcmp(report->fault[i].key, key) == 0) return true;
    return false;
}

static void wrong(const reader *r, ct_case_fault_kind kind, const char *key, const char *given,
                  const char *what)
{
    ct_note_fault(r->report, kind, r->line, key, given, "%s", what);
}

/* ---- Rows -------------------------------------------------------------------------- */

static const ct_key *key_of(const reader *r, const char *name)
{
    char own[CT_PATH_SIZE], advice[160];
    ct_key_own_path(ct_readings_keys(), name, own);
    const ct_key *key = ct_key_find(ct_readings_keys(), own);
    if (key && key->type != CT_KEY_SECTION) return key;
    if (is_said(r->report, CT_CASE_UNKNOWN_KEY, name)) return NULL;
    const bool near = !key && !ct_key_knows(ct_readings_keys(), own, advice, sizeof advice) &&
                      strstr(advice, "did you mean");
    ct_note_fault(r->report, CT_CASE_UNKNOWN_KEY, r->line, name, "", "%s",
                  near
                      ? advice
                      : "not a key of a readings file; 'coiltrim keys --readings' lists them, such "
                        "as suction.pressure");
    return NULL;
}

/* WORDS: a reading. */
static int word_of(const ct_key *key)
{
    int i = 0;
    while (i < WORDS && strcmp(key->path, words[i]) != 0)
        i++;
    return i;
}

static void take_word(reader *r, const ct_key *key, const char *value)
{
    const int i = word_of(key);
    assert(i < WORDS);
    if (strpbrk(value, "\t\r\n")) {
        wrong(r, CT_CASE_TEXT, key->path, value, "one line of text belongs here, without tabs");
        return;
    }
    if (r->word[i] && strcmp(r->word[i], value) != 0)
        wrong(r, CT_CASE_DOUBLED_KEY, key->path, value, "given twice, and not the same");
    if (!r->word[i]) r->word_line[i] = r->line;
    r->word[i] = value;
}

/* The whole cell is a unit, one that a value can be shown in again: "1/2 psig" is none. */
static bool with_unit(const ct_key *key, const char *unit, double *v, ct_fault *fault)
{
    char text[100], plain[40];
    double back;
    const int n = snprintf(text, sizeof text, "%s%s%s",
                           ct_number_write(*v, 17, plain, sizeof plain), ct_units_gap(unit), unit);
    const bool whole = n > 0 && (size_t)n < sizeof text;
    if (whole && ct_units_read(text, key->unit, v, fault) != CT_OK) return false;
    if (whole && ct_units_to(*v, key->unit, unit, &back)) return true;
    ct_fault_say(fault, CT_INPUT, "not a unit of this reading; allowed: %s",
                 ct_units_allowed(key->unit));
    return false;
}

static bool in_si(const reader *r, const ct_key *key, int row, double *v)
{
    ct_fault fault = {.what = ""};
    const char *value = cell(r, row, VALUE);
    if (!number(r, value, v)) {
        wrong(r, CT_CASE_NUMBER, key->path, value,
              *value ? "not a number" : "no value on this line");
        return false;
    }
    if (with_unit(key, cell(r, row, UNIT), v, &fault)) return true;
    if (!is_said(r->report, CT_CASE_UNIT, key->path))
        wrong(r, CT_CASE_UNIT, key->path, cell(r, row, UNIT), fault.what);
    return false;
}

/* A value without a time belongs to the whole log: its time is NaN. */
static void take_value(reader *r, const ct_key *key, int row)
{
    const char *when = cell(r, row, TIME);
    const int kind = ct_readings_kind(key);
    double t = (double)NAN, v;
    if (!in_si(r, key, row, &v)) return;
    if (*when && !time_of(r, when, &t)) {
        wrong(r, CT_CASE_NUMBER, key->path, when,
              "not a time; write seconds (120) or a clock (14:05:30)");
        return;
    }
    if (*when) r->latest = t;
    if (!r->first_line[kind]) {
        r->first_line[kind] = r->line;
        r->unit[kind] = cell(r, row, UNIT);
    }
    r->sample[r->n++] = (ct_steady_sample){kind, t, v};
}

static void take_row(reader *r, int row)
{
    r->line = ct_table_line(r->table, row);
    if (ct_table_cells(r->table, row) > ct_table_columns(r->table)) {
        wrong(r, CT_CASE_SHAPE, cell(r, row, NAME), "", "more cells than the header has columns");
        return;
    }
    const ct_key *key = key_of(r, cell(r, row, NAME));
    if (!key) return;
    if (key->type == CT_KEY_READING)
        take_value(r, key, row);
    else
        take_word(r, key, cell(r, row, VALUE));
}

/* Column of each heading, or a fault that names what is missing. */
static bool headings(reader *r)
{
    const bool any = ct_table_rows(r->table) > 0;
    bool all = any;
    for (int c = 0; c < COLUMNS && any; c++) {
        r->at[c] = -1;
        for (int i = 0; i < ct_table_columns(r->table); i++)
            if (strcasecmp(ct_table_cell(r->table, 0, i), columns[c]) == 0) r->at[c] = i;
        all = all && r->at[c] >= 0;
    }
    if (all && ct_table_columns(r->table) == COLUMNS) return true;
    ct_note_fault(
        r->report, CT_CASE_SHAPE, 1, "", any ? ct_table_cell(r->table, 0, 0) : "",
        "the first line must name four columns: name,value,unit,time; write the export of "
        "the gauge in this form");
    return false;
}

/* ---- To readings ------------------------------------------------------------------- */

/* Those with a time first. */
static int split(ct_steady_sample *s, int n)
{
    int timed = 0;
    for (int i = 0; i < n; i++) {
        if (!isfinite(s[i].t)) continue;
        const ct_steady_sample swap = s[timed];
        s[timed++] = s[i];
        s[i] = swap;
    }
    return timed;
}

/* Of the mean of the series: it may begin with 0 W, before the start. All of it 0: it has no drift,
 * and any margin will do. */
static double usual(const reader *r, int timed, int kind)
{
    const ct_steady_log log = {.sample = r->sample, .n = timed};
    const ct_steady_mean m = ct_steady_average(&log, kind, -HUGE_VAL, HUGE_VAL);
    const double margin = ct_reading_margin((ct_reading_kind)kind, m.mean);
    return margin > 0.0 ? margin : 1.0;
}

static bool find_steady(reader *r, int timed, ct_steady *s, ct_fault *fault)
{
    double margin[CT_READING_COUNT], least = CT_GAUGE_LOG_STEADY;
    int count[CT_READING_COUNT] = {0};
    bool logged = false;
    for (int i = 0; i < timed; i++)
        logged = ++count[r->sample[i].series] >= CT_STEADY_FEW || logged;
    *s = (ct_steady){.found = true, .from = -HUGE_VAL, .to = HUGE_VAL};
    if (!logged) return true;
    for (int k = 0; k < CT_READING_COUNT; k++)
        margin[k] = usual(r, timed, k);
    const ct_steady_log log = {r->sample, timed, margin, CT_READING_COUNT};
    if (ct_steady_find(&log, least, s, fault) != CT_OK) return false;
    if (s->found) return true;
    if (s->worst < 0)
        ct_note_fault(r->report, CT_CASE_RANGE, 0, "", "",
                      "the log is too short: at least %.0f min are needed", least / MINUTE);
    else
        ct_note_fault(
            r->report, CT_CASE_RANGE, r->first_line[s->worst], ct_readings_row(s->worst)->path, "",
            "no steady stretch of %.0f min: %s drifts by more than its margin or has gaps; "
            "let the system run for 15 minutes and log again",
            least / MINUTE, ct_reading_name((ct_reading_kind)s->worst));
    return true;
}

/* Mean and doubt of one kind. A series that was logged counts in the steady stretch only. */
static ct_reading average(const reader *r, int timed, int kind, const ct_steady *s)
{
    const ct_steady_log log = {.sample = r->sample, .n = timed};
    ct_steady_mean m = ct_steady_average(&log, kind, -HUGE_VAL, HUGE_VAL);
    double independent = m.n;
    if (m.n >= CT_STEADY_FEW) {
        m = ct_steady_average(&log, kind, s->from, s->to);
        independent = fmin(m.n, fmax(1.0, (s->to - s->from) / MINUTE));
    }
    double sum = m.mean * m.n;
    int n = m.n;
    for (int i = timed; i < r->n; i++)
        if (r->sample[i].series == kind) {
            sum += r->sample[i].v;
            n++;
        }
    if (n == 0) return (ct_reading){.has = false};
    independent += n - m.n;
    const double v = sum / n;
    const double scatter = m.sd / sqrt(fmax(1.0, independent));
    return (ct_reading){true, v, hypot(ct_reading_margin((ct_reading_kind)kind, v), scatter)};
}

/* ---- Through the reader of the other form, so that the same limits and checks hold ------ */

/* In the unit the log has, so that a message shows what was written. */
static void write_reading(FILE *out, const ct_key *key, const ct_reading *x, const char *unit)
{
    const char *gap = ct_units_gap(unit);
    char v[40], u[40];
    double value = 0.0, above = 0.0;
    ct_units_to(x->v, key->unit, unit, &value);
    ct_units_to(x->v + x->u, key->unit, unit, &above);
    fprintf(out, "  %s: %s%s%s +/- %s%s%s\n", strrchr(key->path, '.') + 1,
            ct_number_write(value, 15, v, sizeof v), gap, unit,
            ct_number_write(above - value, 15, u, sizeof u), gap, unit);
}

static void write_text(FILE *out, const ct_key *key, const char *text)
{
    const char *dot = strchr(key->path, '.');
    fprintf(out, "%s%s: '", dot ? "  " : "", dot ? dot + 1 : key->path);
    for (const char *c = text; *c; c++)
        fprintf(out, *c == '\'' ? "''" : "%c", *c);
    fputs("'\n", out);
}

/* Opens the section of a key, once. */
static void write_section(FILE *out, const ct_key *key, const char **open)
{
    const int n = (int)strcspn(key->path, ".");
    if (*open && strncmp(*open, key->path, (size_t)n + 1) == 0) return;
    fprintf(out, "%.*s:\n", n, key->path);
    *open = key->path;
}

static void write_all(FILE *out, const reader *r, int timed, const ct_steady *s)
{
    const ct_key *key;
    const char *open = NULL;
    for (int i = 0; (key = ct_key_at(ct_readings_keys(), i)); i++) {
        const int word = word_of(key);
        const char *text = word < WORDS ? r->word[word] : NULL;
        const ct_reading x = key->type == CT_KEY_READING
                                 ? average(r, timed, ct_readings_kind(key), s)
                                 : (ct_reading){.has = false};
        if (!x.has && !text) continue;
        if (strchr(key->path, '.')) write_section(out, key, &open);
        if (x.has)
            write_reading(out, key, &x, r->unit[ct_readings_kind(key)]);
        else
            write_text(out, key, text);
    }
}

/* Lines of the log, not of the text in between. */
static void own_lines(const reader *r)
{
    for (int i = 0; i < r->report->n_faults && i < CT_MAX_CASE_FAULTS; i++) {
        ct_case_fault *f = &r->report->fault[i];
        const ct_key *key = ct_key_find(ct_readings_keys(), f->key);
        const int kind = key ? ct_readings_kind(key) : CT_READING_COUNT;
        const int word = key ? word_of(key) : WORDS;
        f->line = kind < CT_READING_COUNT ? r->first_line[kind]
                  : word < WORDS          ? r->word_line[word]
                                          : 0;
    }
}

static ct_status convert(reader *r, int timed, const ct_steady *s, ct_readings *out,
                         ct_fault *fault)
{
    char *text = NULL;
    size_t size;
    FILE *to = open_memstream(&text, &size);
    if (!to) return ct_fault_say(fault, CT_SYSTEM, "out of memory for the log");
    write_all(to, r, timed, s);
    if (fclose(to) != 0) {
        free(text);
        return ct_fault_say(fault, CT_SYSTEM, "out of memory for the log");
    }
    const ct_status status = ct_readings_parse(text, size, out, r->report, fault);
    free(text);
    if (status == CT_INPUT) {
        own_lines(r);
        return ct_note_summary(r->report, fault);
    }
    return status;
}

static ct_status read_rows(reader *r, ct_readings *out, ct_gauge_log *log, ct_fault *fault)
{
    ct_steady steady;
    if (headings(r))
        for (int row = 1; row < ct_table_rows(r->table); row++)
            take_row(r, row);
    if (r->report->n_faults > 0) return ct_note_summary(r->report, fault);
    const int timed = split(r->sample, r->n);
    if (!find_steady(r, timed, &steady, fault)) return CT_SYSTEM;
    if (r->report->n_faults > 0) return ct_note_summary(r->report, fault);
    double first = HUGE_VAL;
    for (int i = 0; i < timed; i++)
        first = fmin(first, r->sample[i].t);
    *log = (ct_gauge_log){.rows = r->n};
    if (isfinite(steady.from)) {
        log->from = steady.from - first;
        log->to = steady.to - first;
    }
    return convert(r, timed, &steady, out, fault);
}

bool ct_gauge_log_is(const char *text, size_t size)
{
    static const char bom[] = "\xEF\xBB\xBF";
    if (size >= 3 && memcmp(text, bom, 3) == 0) {
        text += 3;
        size -= 3;
    }
    const char *end = memchr(text, '\n', size);
    const size_t n = end ? (size_t)(end - text) : size;
    /* A line of YAML with a value has a colon. */
    return n > 0 && !memchr(text, ':', n) && text[0] != '#' &&
           (memchr(text, ',', n) || memchr(text, ';', n));
}

ct_status ct_gauge_log_parse(const char *text, size_t size, ct_readings *out, ct_gauge_log *log,
                             ct_case_report *report, ct_fault *fault)
{
    assert(out && log && report && text);
    ct_table *table;
    report->n_faults = report->n_assumed = 0;
    ct_fault story = {.what = ""};
    if (size > CT_GAUGE_LOG_BYTES) {
        ct_note_fault(report, CT_CASE_TOO_LARGE, 0, "", "",
                      "the log is larger than 16 MB; log less often, or cut it");
        return ct_note_summary(report, fault);
    }
    ct_status status = ct_table_parse(text, size, &table, &story);
    if (status == CT_INPUT) {
        ct_note_fault(report, CT_CASE_SYNTAX, 0, "", "", "%s", story.what);
        return ct_note_summary(report, fault);
    }
    if (status != CT_OK) return ct_fault_say(fault, status, "%s", story.what);
    reader r = {.table = table, .latest = (double)NAN, .report = report};
    r.sample = malloc((size_t)ct_table_rows(table) * sizeof *r.sample + 1);
    status = r.sample ? read_rows(&r, out, log, fault)
                      : ct_fault_say(fault, CT_SYSTEM, "out of memory for the log");
    free(r.sample);
    ct_table_free(table);
    return status;
}
