#include "case/weather.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "base/units.h"
#include "case/note.h"
#include "case/weather_row.h"
#include "fluid/air.h"

#define T_LOW (CT_ZERO_C - 80.0)
#define T_HIGH (CT_ZERO_C + 60.0)
#define ABOVE 1.0 /* K a dew point may be above its dry bulb: files round both */

typedef enum { DRY_BULB, DEW_POINT, WET_BULB, HUMIDITY, HOURS, COLUMNS } column;

static const char *const column_name[COLUMNS] = {"dry bulb", "dew point", "wet bulb",
                                                 "relative humidity", "hours"};

typedef struct {
    ct_weather_row row;
    double p;
    int at[COLUMNS];    /* where each column is, -1: not there */
    char unit[COLUMNS]; /* of a temperature: 'c', 'f', 'k' */
    bool epw;
    int month, day, hour; /* EPW: of the line before, 0 at the first */
    ct_weather *out;
    int room; /* hours there is memory for */
    ct_case_report *report;
    ct_fault *fault;
} reader;

static void wrong(const reader *r, const char *key, const char *given, const char *what)
{
    ct_note_fault(r->report, CT_CASE_NUMBER, r->row.line, key, given, "%s", what);
}

/* ---- Values ---------------------------------------------------------------------- */

static bool number(const reader *r, column c, double *v)
{
    const char *text = ct_weather_cell(&r->row, r->at[c]), *end;

    if (ct_number_read(text, v, &end) && *end == '\0') return true;
    wrong(r, column_name[c], text, *text ? "not a number" : "no value on this line");
    return false;
}

static double in_kelvin(double v, char unit)
{
    return unit == 'f' ? ct_K_from_F(v) : unit == 'c' ? v + CT_ZERO_C : v;
}

static bool temperature(const reader *r, column c, double *T)
{
    double v;

    if (!number(r, c, &v)) return false;
    *T = in_kelvin(v, r->unit[c]);
    if (*T >= T_LOW && *T <= T_HIGH) return true;
    wrong(r, column_name[c], ct_weather_cell(&r->row, r->at[c]),
          "outside -80 to 60 C: a missing value? fill it from the hours beside it");
    return false;
}

/* In EPW a value that is missing is written as 99.9 or 999. */
static bool is_there(const reader *r, column c)
{
    const char *text = ct_weather_cell(&r->row, r->at[c]), *end;
    double v;

    if (r->at[c] < 0) return false;
    return !r->epw || !ct_number_read(text, &v, &end) || v < (c == HUMIDITY ? 999.0 : 99.9);
}

/* What no reading was refused for can still be no air. */
static bool is_air(const reader *r, column c, ct_status status)
{
    if (status == CT_OK) return true;
    wrong(r, column_name[c], ct_weather_cell(&r->row, r->at[c]),
          "no air has this beside the dry bulb of this line");
    return false;
}

static bool from_dew_point(const reader *r, double T, ct_air *air)
{
    double T_dp;

    if (!temperature(r, DEW_POINT, &T_dp)) return false;
    if (T_dp <= T + ABOVE)
        return is_air(r, DEW_POINT, ct_air_from_dew_point(T, fmin(T_dp, T), r->p, air, NULL));
    wrong(r, column_name[DEW_POINT], ct_weather_cell(&r->row, r->at[DEW_POINT]),
          "above the dry bulb, which no air has");
    return false;
}

static bool from_humidity(const reader *r, double T, ct_air *air)
{
    double rh;

    if (!number(r, HUMIDITY, &rh)) return false;
    if (rh >= 0.0 && rh <= 110.0)
        return is_air(r, HUMIDITY, ct_air_from_rh(T, fmin(rh, 100.0) / 100.0, r->p, air, NULL));
    wrong(r, column_name[HUMIDITY], ct_weather_cell(&r->row, r->at[HUMIDITY]),
          "outside 0 to 100%: a missing value? fill it from the hours beside it");
    return false;
}

static bool from_wet_bulb(const reader *r, double T, ct_air *air)
{
    double T_wb;

    if (!temperature(r, WET_BULB, &T_wb)) return false;
    return is_air(r, WET_BULB,
                  T_wb <= T + ABOVE ? ct_air_from_wet_bulb(T, fmin(T_wb, T), r->p, air, NULL)
                                    : CT_INPUT);
}

static bool moisture(const reader *r, double T, ct_air *air)
{
    if (is_there(r, DEW_POINT)) return from_dew_point(r, T, air);
    if (is_there(r, HUMIDITY)) return from_humidity(r, T, air);
    if (is_there(r, WET_BULB)) return from_wet_bulb(r, T, air);
    wrong(r, column_name[DEW_POINT], ct_weather_cell(&r->row, r->at[DEW_POINT]),
          "no value on this line, nor a relative humidity");
    return false;
}

static bool hours_of(const reader *r, double *hours)
{
    *hours = 1.0;
    if (r->at[HOURS] < 0) return true;
    if (!number(r, HOURS, hours)) return false;
    if (*hours >= 0.0 && *hours <= 8784.0) return true;
    wrong(r, column_name[HOURS], ct_weather_cell(&r->row, r->at[HOURS]),
          "outside 0 to 8784, the hours of a year");
    return false;
}

/* ---- Rows ------------------------------------------------------------------------ */

static ct_status append(reader *r, ct_weather_hour hour)
{
    ct_weather *w = r->out;

    if (w->n == CT_WEATHER_HOURS)
        return ct_fail(r->fault, CT_INPUT, w->n, 1, CT_WEATHER_HOURS,
                       "weather file: more than %d hours", CT_WEATHER_HOURS);
    if (w->n == r->room) {
        const int room = r->room > 0 ? 2 * r->room : 8784;
        ct_weather_hour *larger = realloc(w->hour, (size_t)room * sizeof *larger);
        if (!larger) return ct_fault_say(r->fault, CT_SYSTEM, "out of memory");
        w->hour = larger;
        r->room = room;
    }
    w->hour[w->n++] = hour;
    return CT_OK;
}

static int whole(const reader *r, int i)
{
    const char *end;
    double v;

    return ct_number_read(ct_weather_cell(&r->row, i), &v, &end) && *end == '\0' && v >= 1.0 &&
                   v <= 31.0
               ? (int)v
               : 0;
}

/* A house has a memory: an hour left out or doubled would put the next ones beside wrong air. */
static bool in_order(reader *r)
{
    const int month = whole(r, 1), day = whole(r, 2), hour = whole(r, 3);
    const bool same_day = month == r->month && day == r->day;
    const bool first = r->month == 0;
    const bool good = month >= 1 && day >= 1 && hour >= 1 && hour <= 24 &&
                      (first || (hour == r->hour % 24 + 1 && same_day == (hour > 1)));

    if (!good)
        ct_note_fault(r->report, CT_CASE_SHAPE, r->row.line, "hour", ct_weather_cell(&r->row, 3),
                      "month %s, day %s does not follow the line before; hours go from 1 to 24, "
                      "none left out and none doubled",
                      ct_weather_cell(&r->row, 1), ct_weather_cell(&r->row, 2));
    r->month = month;
    r->day = day;
    r->hour = hour;
    return good;
}

static ct_status take(reader *r)
{
    double T, hours;
    ct_air air;

    if (r->epw && r->row.n < 9) {
        wrong(r, "line", "", "fewer than nine fields; an EPW line has 35");
        return CT_OK;
    }
    if (r->epw && !in_order(r)) return CT_OK;
    if (!temperature(r, DRY_BULB, &T) || !moisture(r, T, &air) || !hours_of(r, &hours))
        return CT_OK;
    return hours > 0.0 ? append(r, (ct_weather_hour){hours, T, air.W}) : CT_OK;
}

static ct_status take_all(reader *r)
{
    ct_status status = CT_OK;

    while (status == CT_OK && ct_weather_row_next(&r->row))
        status = take(r);
    return status;
}

/* ---- Headers --------------------------------------------------------------------- */

static void keep_place(reader *r, const char *text)
{
    size_t n = 0;

    for (; text[n] && n + 1 < sizeof r->out->place; n++)
        r->out->place[n] = (char)(text[n] >= ' ' && text[n] <= '~' ? text[n] : '?');
    r->out->place[n] = '\0';
}

/* The rest of the eight header lines. */
static bool epw_header(reader *r)
{
    static const char *const names[] = {"LOCATION",
                                        "DESIGN CONDITIONS",
                                        "TYPICAL/EXTREME PERIODS",
                                        "GROUND TEMPERATURES",
                                        "HOLIDAYS/DAYLIGHT SAVING",
                                        "COMMENTS 1",
                                        "COMMENTS 2",
                                        "DATA PERIODS"};

    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (i > 0 && !ct_weather_row_next(&r->row)) r->row.n = 0;
        if (strncmp(ct_weather_cell(&r->row, 0), names[i], strlen(names[i])) == 0) continue;
        ct_note_fault(r->report, CT_CASE_SHAPE, r->row.line, "header", ct_weather_cell(&r->row, 0),
                      "an EPW file has '%s' on this line", names[i]);
        return false;
    }
    if (strcmp(ct_weather_cell(&r->row, 1), "1") == 0 &&
        strcmp(ct_weather_cell(&r->row, 2), "1") == 0)
        return true;
    ct_note_fault(r->report, CT_CASE_SHAPE, r->row.line, "DATA PERIODS",
                  ct_weather_cell(&r->row, 2),
                  "allowed is one period with one line an hour: DATA PERIODS,1,1,...");
    return false;
}

/* Letters and digits only, in lower case: "Dry-bulb (C)" is "drybulbc". */
static void bare(const char *text, char *out, size_t size)
{
    size_t n = 0;

    for (; *text && n + 1 < size; text++)
        if (isalnum((unsigned char)*text)) out[n++] = (char)tolower((unsigned char)*text);
    out[n] = '\0';
}

static const struct {
    const char *name;
    column c;
} known[] = {
    {"drybulb", DRY_BULB},   {"outdoordrybulb", DRY_BULB},
    {"dewpoint", DEW_POINT}, {"outdoordewpoint", DEW_POINT},
    {"wetbulb", WET_BULB},   {"outdoorwetbulb", WET_BULB},
    {"rhum", HUMIDITY},      {"relativehumidity", HUMIDITY},
    {"rh", HUMIDITY},        {"outdoorhumidity", HUMIDITY},
    {"hours", HOURS},
};

static bool has_unit(column c)
{
    return c == DRY_BULB || c == DEW_POINT || c == WET_BULB;
}

/* 'c' of "drybulbc" or "drybulbdegc"; '?' for none; 0: another column, "drybulbsource". */
static char unit_of(const char *rest)
{
    if (strncmp(rest, "deg", 3) == 0) rest += 3;
    if (!*rest) return '?';
    return rest[1] == '\0' && strchr("cfk", rest[0]) ? rest[0] : '\0';
}

static void know(reader *r, int i)
{
    char name[64];

    bare(ct_weather_cell(&r->row, i), name, sizeof name);
    for (size_t k = 0; k < sizeof known / sizeof known[0]; k++) {
        const size_t n = strlen(known[k].name);
        const column c = known[k].c;
        if (strncmp(name, known[k].name, n) != 0 || r->at[c] >= 0) continue;
        const char unit = has_unit(c) ? unit_of(name + n) : '-';
        if (unit == '\0' || (unit == '-' && name[n] && strcmp(name + n, "percent") != 0)) continue;
        r->at[c] = i;
        r->unit[c] = unit;
    }
}

/* Column names among the first three lines, the first of which is read already. */
static bool csv_header(reader *r)
{
    for (int line = 0; line < 3; line++) {
        if (line > 0 && !ct_weather_row_next(&r->row)) break;
        for (int i = 0; i < r->row.n; i++)
            know(r, i);
        if (r->at[DRY_BULB] >= 0) break;
    }
    if (r->at[DRY_BULB] < 0 ||
        (r->at[DEW_POINT] < 0 && r->at[WET_BULB] < 0 && r->at[HUMIDITY] < 0)) {
        ct_note_fault(r->report, CT_CASE_SHAPE, r->row.line, "header", "",
                      "not a weather file: neither EPW (first line LOCATION,...) nor a CSV with a "
                      "dry bulb and a dew point, wet bulb or relative humidity among its columns: "
                      "dry_bulb_f,dew_point_f");
        return false;
    }
    for (column c = DRY_BULB; c <= WET_BULB; c++)
        if (r->at[c] >= 0 && r->unit[c] == '?')
            ct_note_fault(r->report, CT_CASE_UNIT, r->row.line, column_name[c],
                          ct_weather_cell(&r->row, r->at[c]),
                          "a temperature needs its unit in the column's name: dry_bulb_f, "
                          "dry_bulb_c");
    return r->report->n_faults == 0;
}

static bool header(reader *r)
{
    if (!ct_weather_row_next(&r->row)) {
        ct_note_fault(r->report, CT_CASE_EMPTY, 0, "file", "", "the weather file is empty");
        return false;
    }
    r->epw = strcmp(ct_weather_cell(&r->row, 0), "LOCATION") == 0;
    if (!r->epw) return csv_header(r);
    keep_place(r, ct_weather_cell(&r->row, 1));
    r->at[DRY_BULB] = 6;
    r->at[DEW_POINT] = 7;
    r->at[HUMIDITY] = 8;
    r->unit[DRY_BULB] = r->unit[DEW_POINT] = 'c';
    return epw_header(r);
}

/* ---- Whole ----------------------------------------------------------------------- */

static void check_whole(reader *r)
{
    const ct_weather *w = r->out;
    double hours = 0.0;

    if (r->report->n_faults > 0) return;
    for (int i = 0; i < w->n; i++)
        hours += w->hour[i].hours;
    if (w->hourly ? w->n < 24 : w->n < 1)
        ct_note_fault(r->report, CT_CASE_COUNT, 0, "file", "", "%d lines of weather; at least %d",
                      w->n, w->hourly ? 24 : 1);
    else if (!w->hourly && hours > 8784.0)
        ct_note_fault(r->report, CT_CASE_COUNT, 0, "hours", "",
                      "%.0f hours in all the bins; a year has 8784 at most", hours);
}

static ct_status read_text(reader *r)
{
    if (header(r)) {
        r->out->hourly = r->at[HOURS] < 0;
        const ct_status status = take_all(r);
        if (status != CT_OK) return status;
    }
    check_whole(r);
    return r->report->n_faults == 0 ? CT_OK : ct_note_summary(r->report, r->fault);
}

static ct_status check_bytes(const char *text, size_t size, ct_fault *fault)
{
    if (!text) return ct_fault_say(fault, CT_INPUT, "weather file: no text");
    if (size > CT_WEATHER_BYTES)
        return ct_fail(fault, CT_INPUT, (double)size, 0, CT_WEATHER_BYTES,
                       "weather file: more than %d MB", CT_WEATHER_BYTES / (1024 * 1024));
    if (memchr(text, '\0', size))
        return ct_fault_say(fault, CT_INPUT, "weather file: not text, there is a NUL byte in it");
    return CT_OK;
}

ct_status ct_weather_read(const char *text, size_t size, double p, ct_weather *out,
                          ct_case_report *report, ct_fault *fault)
{
    static const char bom[] = "\xef\xbb\xbf";
    reader r = {.p = p, .at = {-1, -1, -1, -1, -1}, .out = out, .report = report, .fault = fault};

    *out = (ct_weather){.hour = NULL};
    report->n_faults = report->n_assumed = 0;
    ct_status status = check_bytes(text, size, fault);
    if (status != CT_OK) return status;
    if (!(p >= CT_AIR_P_MIN && p <= CT_AIR_P_MAX))
        return ct_fail(fault, CT_RANGE, p, CT_AIR_P_MIN, CT_AIR_P_MAX,
                       "weather file: %.6g Pa is no barometric pressure", p);
    char *copy = malloc(size + 1);
    if (!copy) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    memcpy(copy, text, size);
    copy[size] = '\0';
    r.row.rest = strncmp(copy, bom, 3) == 0 ? copy + 3 : copy;
    status = read_text(&r);
    free(copy);
    if (status != CT_OK) ct_weather_free(out);
    return status;
}

void ct_weather_free(ct_weather *w)
{
    free(w->hour);
    *w = (ct_weather){.hour = NULL};
}
