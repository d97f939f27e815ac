#include "case/take.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "base/units.h"
#include "base/words.h"
#include "case/keys.h"
#include "case/note.h"
#include "case/value.h"
#include "fluid/catalog.h"

bool ct_take_shape(const ct_entry *e, ct_node_kind wanted)
{
    static const char *const words[] = {[CT_NODE_TEXT] = "a single value",
                                        [CT_NODE_LIST] = "a list ('- ...' lines, or [..., ...])",
                                        [CT_NODE_SECTION] =
                                            "a section of indented 'key: value' lines"};
    if (e->node->kind == CT_NODE_TEXT && e->node->text[0] == '\0') {
        ct_entry_fault(e, CT_CASE_EMPTY, "no value here; write %s, or take the key out",
                       words[wanted]);
        return false;
    }
    if (e->node->kind == wanted) return true;
    if (wanted == CT_NODE_SECTION && e->node->line == CT_LINE_OF_PAIR) {
        ct_entry_fault(e, CT_CASE_SHAPE,
                       "has keys of its own, so write %s.KEY=VALUE; 'coiltrim keys %s' lists them",
                       e->shown, e->key->path);
        return false;
    }
    ct_entry_fault(e, CT_CASE_SHAPE, "%s belongs here, not %s", words[wanted],
                   words[e->node->kind]);
    return false;
}

/* Four digits, or all before the decimal point: "240000", not "2.4e+05". */
static const char *limit_text(double v, char *text, size_t size)
{
    const int whole = fabs(v) < 1e4 ? 4 : 1 + (int)floor(log10(fabs(v)));
    return ct_number_write(v, whole, text, size);
}

/* Limits in the unit the technician wrote, so that nobody has to convert to see what is allowed. */
static void range_fault(const ct_entry *e, double low, double high, const char *unit)
{
    double from = low;
    double to = high;
    char a[32];
    char b[32];
    const ct_unit_kind kind = e->key->unit;
    const bool bare = kind == CT_UNIT_FRACTION && !*unit; /* "50" is nearly always 50 % */
    if (bare) unit = "%";
    const char *blank = ct_units_gap(unit);
    ct_units_to(low, kind, unit, &from);
    ct_units_to(high, kind, unit, &to);
    char percent[48], advice[80] = "check the number and its unit";
    double v;
    snprintf(percent, sizeof percent, "%.40s%%", e->node->text);
    if (bare && ct_units_read(percent, kind, &v, NULL) == CT_OK && v >= low && v <= high)
        snprintf(advice, sizeof advice, "write %s", percent);
    ct_entry_fault(e, CT_CASE_RANGE, "%.40s%s is outside what is allowed, %s%s%s to %s%s%s; %s",
                   e->node->text, bare ? " without '%'" : "", limit_text(from, a, sizeof a), blank,
                   unit, limit_text(to, b, sizeof b), blank, unit, advice);
}

/* A density is kept as a pitch, so its lowest limit is the largest number in SI. */
static bool in_range(const ct_key *k, double v, double *low, double *high)
{
    *low = -INFINITY;
    *high = INFINITY;
    if (!k->low) return true;
    const bool table_ok = ct_units_read(k->low, k->unit, low, NULL) == CT_OK &&
                          ct_units_read(k->high, k->unit, high, NULL) == CT_OK;
    assert(table_ok);
    (void)table_ok;
    return v >= fmin(*low, *high) && v <= fmax(*low, *high);
}

static bool starts_number(const char *text)
{
    const char *end;
    while (*text == ' ')
        text++;
    double v;
    return ct_number_read(text, &v, &end) || *text == 'R' || *text == 'r';
}

static bool is_bare(const char *text)
{
    const char *end;
    double v;
    return ct_number_read(text, &v, &end) && end[strspn(end, " ")] == '\0';
}

/* In which units the file is written; defaults have no line. */
static void count_temperature(const ct_entry *e, const char *unit)
{
    if (e->key->unit != CT_UNIT_TEMPERATURE || e->node->line == 0) return;
    if (*unit == 'F')
        e->report->n_fahrenheit++;
    else
        e->report->n_celsius++;
}

/* Where a value with a unit belongs that was given to a key without one: the only key beside it
 * that takes it, as `tons` for a `size` of "3.5 ton". False: none, or several. */
static bool belongs_to(const ct_entry *e, char path[CT_PATH_SIZE])
{
    const char *dot = strrchr(e->key->path, '.'), *shown = strrchr(e->shown, '.');
    const ct_key *k;
    int found = 0;
    double v;
    if (e->key->unit != CT_UNIT_NONE || !dot || !shown) return false;
    const size_t n = (size_t)(dot - e->key->path) + 1;
    for (int i = 0; (k = ct_key_at(&ct_case_keys, i)) != NULL; i++) {
        if (strncmp(k->path, e->key->path, n) != 0 || strpbrk(k->path + n, ".[")) continue;
        if (k->unit == CT_UNIT_NONE || ct_units_read(e->node->text, k->unit, &v, NULL) != CT_OK)
            continue;
        snprintf(path, CT_PATH_SIZE, "%.*s.%s", (int)(shown - e->shown), e->shown, k->path + n);
        found++;
    }
    return found == 1;
}

static void unit_fault(const ct_entry *e, const ct_fault *fault)
{
    const bool number = starts_number(e->node->text);
    const char *example = is_bare(e->node->text) ? strstr(e->key->unit_text, ", ") : NULL;
    char path[CT_PATH_SIZE];
    if (belongs_to(e, path))
        ct_entry_fault(e, CT_CASE_UNIT, "%s; with a unit give it as %s", fault->what, path);
    else
        ct_entry_fault(e, number ? CT_CASE_UNIT : CT_CASE_NUMBER, "%s%s%s", fault->what,
                       example ? "; such as " : "", example ? example + 2 : "");
}

#define STAMP_LEAST 20.0 /* thousandths of an inch */
#define INCHES_MOST 0.2  /* in mm no hole is as small */

bool ct_take_bore(const char *text, double *bore)
{
    const char *end;
    double v;
    if (!is_bare(text) || !ct_number_read(text, &v, &end)) return false;
    if (v >= STAMP_LEAST)
        v /= 1000.0;
    else if (!(v > 0.0 && v < INCHES_MOST))
        return false;
    *bore = v * CT_M_PER_IN;
    return true;
}

/* One number with its unit from the file, in SI. NaN after a fault. */
static double take_number(const ct_entry *e)
{
    const char *unit = "in";
    ct_fault fault;
    double v;
    const bool bore = e->key->stamped && ct_take_bore(e->node->text, &v);
    if (!bore && ct_units_read_as(e->node->text, e->key->unit, &v, &unit, &fault) != CT_OK) {
        unit_fault(e, &fault);
        return NAN;
    }
    count_temperature(e, unit);
    double low;
    double high;
    if (in_range(e->key, v, &low, &high)) return v;
    range_fault(e, low, high, unit);
    return NAN;
}

static int take_whole(const ct_entry *e)
{
    const double v = take_number(e);
    if (!isfinite(v)) return 0;
    if (floor(v) == v) return (int)v;
    ct_entry_fault(e, CT_CASE_NUMBER, "%.40s is not a whole number; allowed: %s", e->node->text,
                   e->key->allowed_text);
    return 0;
}

static void take_text(const ct_entry *e, char *to)
{
    const char *text = e->node->text;
    const size_t size = e->key->size;
    if (strlen(text) >= size)
        ct_entry_fault(e, CT_CASE_TEXT, "%zu bytes long; at most %zu fit, shorten it", strlen(text),
                       size - 1);
    else if (e->key->type == CT_KEY_TEXT && strpbrk(text, "\r\n\t"))
        ct_entry_fault(e, CT_CASE_TEXT, "one line of text belongs here, without tabs");
    else
        memcpy(to, text, strlen(text) + 1);
}

/* "constant_torque,constant_airflow" as "constant_torque or constant_airflow". */
static void write_choice(const char *meant, char *text, size_t size)
{
    size_t n = 0;
    for (; *meant && *meant != '|' && n < size; meant++)
        n += (size_t)snprintf(text + n, size - n, *meant == ',' ? " or " : "%c", *meant);
}

enum { MOST_CHOICES = 24 };

static void no_choice(const ct_entry *e)
{
    char word[MOST_CHOICES][CT_WORD_MAX], meant[CT_WORD_MAX + 24] = "";
    const char *list[MOST_CHOICES];
    int n = 0;
    for (const char *at = e->key->words; *at && n < MOST_CHOICES; n++) {
        snprintf(word[n], CT_WORD_MAX, "%.*s", (int)strcspn(at, "|"), at);
        list[n] = word[n];
        at += strcspn(at, "|");
        at += *at == '|';
    }
    const char *near = ct_words_nearest(e->node->text, list, n);
    if (near) snprintf(meant, sizeof meant, "; did you mean '%s'?", near);
    ct_entry_fault(e, CT_CASE_CHOICE, "'%.40s' is not a choice here%s%s allowed: %s (%s)",
                   e->node->text, meant, near ? "" : ";", e->key->words, e->key->help);
}

/* The place of the word among those of the key, -1 after a fault. */
static int take_choice(const ct_entry *e)
{
    const char *meant = "";
    char choice[80] = "";
    const int i = ct_key_word(e->key, e->node->text, &meant);
    if (i >= 0) return i;
    write_choice(meant, choice, sizeof choice);
    if (i == CT_MANY_WORDS)
        ct_entry_fault(e, CT_CASE_CHOICE, "'%.40s' can be %s; write which one (%s)", e->node->text,
                       choice, e->key->help);
    else
        no_choice(e);
    return -1;
}

/* Words kept as text are names of refrigerants, and spelled as the catalog takes them. */
static void take_word(const ct_entry *e, char *to)
{
    for (const char *w = e->key->words; *w; w += strcspn(w, "|"), w += *w == '|') {
        char word[CT_WORD_MAX];
        snprintf(word, sizeof word, "%.*s", (int)strcspn(w, "|"), w);
        if (!ct_catalog_same(e->node->text, word)) continue;
        snprintf(to, e->key->size, "%s", word);
        return;
    }
    take_choice(e); /* words the fault */
}

static void store(char *to, const void *value, size_t size)
{
    memcpy(to, value, size);
}

void ct_take_numbers(const ct_entry *e, char *to)
{
    const int wanted = e->key->max;
    if (e->node->n != wanted)
        ct_entry_fault(e, CT_CASE_COUNT, "a list of %d numbers belongs here, not of %d", wanted,
                       e->node->n);
    int i = 0;
    for (const ct_node *node = e->node->first; node && i < wanted; node = node->next, i++) {
        char path[CT_PATH_SIZE];
        ct_key_path_item(path, e->shown, i);
        const ct_entry item = {e->key, path, node, e->report};
        double v = 0.0;
        if (node->kind == CT_NODE_TEXT)
            v = take_number(&item);
        else
            ct_note_fault(e->report, CT_CASE_SHAPE, node->line, path, "",
                          "a bare number belongs here");
        store(to + (size_t)i * sizeof v, &v, sizeof v);
    }
}

static void take_only(const ct_entry *e)
{
    if (e->key->words)
        take_choice(e);
    else
        take_number(e);
}

ct_unit_kind ct_take_margin_kind(ct_unit_kind kind)
{
    return kind == CT_UNIT_TEMPERATURE      ? CT_UNIT_DELTA_T
           : kind == CT_UNIT_PRESSURE_GAUGE ? CT_UNIT_PRESSURE
                                            : kind;
}

static const char *after_sign(const char *text, size_t *before)
{
    static const char *const signs[] = {"+/-", "+-", "\xC2\xB1"};
    for (int i = 0; i < 3; i++) {
        const char *sign = strstr(text, signs[i]);
        if (!sign) continue;
        *before = (size_t)(sign - text);
        return sign + strlen(signs[i]);
    }
    return NULL;
}

/* A margin in the reading's own unit, or as a share of the reading where that is no fraction. */
static double take_margin(const ct_entry *e, const char *text, double v)
{
    ct_fault fault;
    const ct_unit_kind own = e->key->unit;
    const bool share = strchr(text, '%') && own != CT_UNIT_FRACTION;
    double u;
    ct_status status =
        ct_units_read(text, share ? CT_UNIT_FRACTION : ct_take_margin_kind(own), &u, &fault);
    if (status != CT_OK && own == CT_UNIT_PRESSURE_GAUGE)
        status = ct_units_read(text, CT_UNIT_PRESSURE_GAUGE, &u, NULL); /* "2 psig" is 2 psi */
    if (status != CT_OK) {
        ct_entry_fault(e, CT_CASE_UNIT, "after +/-: %s", fault.what);
        return NAN;
    }
    if (share) u *= fabs(v);
    if (u > 0.0 || isnan(v)) return u;
    ct_entry_fault(e, CT_CASE_RANGE,
                   "the margin after +/- must be above 0; no instrument is exact");
    return NAN;
}

/* "54.2 F" or "54.2 F +/- 1 F". */
static ct_reading take_reading(const ct_entry *e)
{
    ct_reading reading = {.has = true, .u = NAN};
    char text[80];
    size_t before = strlen(e->node->text);
    const char *margin = after_sign(e->node->text, &before);
    snprintf(text, sizeof text, "%.*s", (int)(before < sizeof text ? before : sizeof text - 1),
             e->node->text);
    ct_node number = *e->node;
    number.text = text;
    reading.v = take_number(&(ct_entry){e->key, e->shown, &number, e->report});
    if (margin) reading.u = take_margin(e, margin, reading.v);
    return reading;
}

/* Member by member: a whole ct_maybe would bring stray bytes between its members, and two cases
 * read from the same values could not be compared as memory. */
static void take_maybe(const ct_entry *e, char *to)
{
    const double v = take_number(e);
    const bool yes = true;
    store(to + offsetof(ct_maybe, has), &yes, sizeof yes);
    store(to + offsetof(ct_maybe, v), &v, sizeof v);
}

void ct_take_value(const ct_entry *e, char *to)
{
    ct_reading reading;
    int whole;
    bool yes;
    double number;
    switch (e->key->type) {
    case CT_KEY_NUMBER:
        number = take_number(e);
        store(to, &number, sizeof number);
        break;
    case CT_KEY_READING:
        reading = take_reading(e);
        store(to, &reading, sizeof reading);
        break;
    case CT_KEY_WHOLE:
        whole = take_whole(e);
        store(to, &whole, sizeof whole);
        break;
    case CT_KEY_CHOICE:
        whole = take_choice(e);
        if (whole < 0) whole = 0;
        store(to, &whole, sizeof whole);
        break;
    case CT_KEY_YESNO:
        yes = take_choice(e) == 1;
        store(to, &yes, sizeof yes);
        break;
    case CT_KEY_MAYBE: take_maybe(e, to); break;
    case CT_KEY_WORD: take_word(e, to); break;
    case CT_KEY_ONLY: take_only(e); break;
    default: take_text(e, to); break;
    }
}
