#include "show/sheet.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/paragraph.h"
#include "show/arithmetic.h"
#include "show/json_out.h"
#include "show/units_shown.h"

enum { EXTRA_DECIMALS = 7, TEXT_SIZE = 400 };

static const struct {
    quantity_form ip, metric;
} forms[M_COUNT_] = {
    [M_NUMBER] = {{UNIT_NONE, 3}, {UNIT_NONE, 3}},
    [M_PERCENT] = {{UNIT_PERCENT, 1}, {UNIT_PERCENT, 1}},
    [M_TEMPERATURE] = {{UNIT_F, 1}, {UNIT_C, 2}},
    [M_DIFFERENCE] = {{UNIT_DELTA_F, 1}, {UNIT_K, 2}},
    [M_HEAT] = {{UNIT_BTUH, 0}, {UNIT_KW, 3}},
    [M_ELECTRIC] = {{UNIT_W, 0}, {UNIT_W, 0}},
    [M_MASS_FLOW] = {{UNIT_LB_H, 1}, {UNIT_KG_S, 4}},
    [M_WATER] = {{UNIT_LB_H, 2}, {UNIT_G_S, 3}},
    [M_AIR_ENTHALPY] = {{UNIT_BTU_LB_AIR, 2}, {UNIT_KJ_KG, 2}},
    [M_ENTHALPY] = {{UNIT_BTU_LB, 2}, {UNIT_KJ_KG, 2}},
    [M_MOISTURE] = {{UNIT_GR_LB, 1}, {UNIT_G_KG, 2}},
    [M_PRESSURE] = {{UNIT_PSIA, 1}, {UNIT_KPA, 1}},
    [M_VAPOR] = {{UNIT_PSIA, 4}, {UNIT_KPA, 4}},
    [M_STATIC] = {{UNIT_INWC, 2}, {UNIT_PA, 0}},
    [M_VOLUME] = {{UNIT_FT3_LB, 3}, {UNIT_M3_KG, 4}},
    [M_DENSITY] = {{UNIT_LB_FT3, 3}, {UNIT_KG_M3, 2}},
    [M_AIRFLOW] = {{UNIT_CFM, 0}, {UNIT_L_S, 0}},
    [M_PER_TON] = {{UNIT_CFM_TON, 0}, {UNIT_L_S_TON, 1}},
    [M_DISPLACEMENT] = {{UNIT_FT3_H, 1}, {UNIT_M3_S, 6}},
    [M_CONDUCTANCE] = {{UNIT_BTUH_F, 0}, {UNIT_KW_K, 4}},
    [M_HEAT_CAPACITY] = {{UNIT_BTU_LB_F, 4}, {UNIT_KJ_KG_K, 4}},
    [M_VELOCITY] = {{UNIT_FT_MIN, 0}, {UNIT_M_S, 2}},
    [M_EER] = {{UNIT_BTU_WH, 2}, {UNIT_W_W, 2}},
};

typedef enum { SECTION, SENTENCE, GIVEN, SUM } item_kind;

typedef struct {
    item_kind kind;
    char *text;                         /* heading or sentence; label of a value */
    char *name, *formula, *sum, *shown; /* NULL where there is none */
    const char *unit;
    double v; /* as shown, not rounded */
} item;

struct sheet {
    char *title;
    const char *stage; /* of two; NULL: there is one */
    bool metric, no_memory;
    int numbered;                /* sections so far */
    char wrong[TEXT_SIZE + 120]; /* name of the first sum that does not give its result */
    item *items;
    size_t n, room;
};

sheet *sheet_new(const char *title, bool metric)
{
    sheet *s = calloc(1, sizeof *s);
    if (!s) return NULL;
    s->metric = metric;
    s->title = strdup(title);
    s->no_memory = !s->title;
    return s;
}

void sheet_free(sheet *s)
{
    if (!s) return;
    for (size_t i = 0; i < s->n; i++) {
        free(s->items[i].text);
        free(s->items[i].name);
        free(s->items[i].formula);
        free(s->items[i].sum);
        free(s->items[i].shown);
    }
    free(s->items);
    free(s->title);
    free(s);
}

bool sheet_metric(const sheet *s)
{
    return s->metric;
}

static const quantity_form *form_of(const sheet *s, measure m)
{
    return s->metric ? &forms[m].metric : &forms[m].ip;
}

static char *copy(sheet *s, const char *text)
{
    char *c = strdup(text);
    if (!c) s->no_memory = true;
    return c;
}

/* The next free item; a scratch one when there is no memory, so that callers need not ask. */
static item *add(sheet *s, item_kind kind, const char *text)
{
    if (s->n == s->room) {
        const size_t room = s->room ? 2 * s->room : 64;
        item *items = realloc(s->items, room * sizeof *items);
        if (!items) {
            s->no_memory = true;
            return NULL;
        }
        s->items = items;
        s->room = room;
    }
    item *i = &s->items[s->n++];
    *i = (item){.kind = kind, .text = copy(s, text)};
    return i;
}

/* ---- Numbers --------------------------------------------------------------------- */

/* Never "-0"; '.' in every locale, because the program sets none. */
static void write_number(char text[40], double v, int decimals)
{
    snprintf(text, 40, "%.*f", decimals, v);
    if (text[0] == '-' && strspn(text, "-0.") == strlen(text))
        memmove(text, text + 1, strlen(text));
}

static void trim_zeros(char *text, int keep)
{
    const char *point = strchr(text, '.');
    if (!point) return;
    for (size_t i = strlen(text); i-- > 0 && text[i] == '0' && &text[i] > point + keep;)
        text[i] = '\0';
    if (text[strlen(text) - 1] == '.') text[strlen(text) - 1] = '\0';
}

term sheet_term(const sheet *s, measure m, double si)
{
    const quantity_form *f = form_of(s, m);
    return (term){quantity_show(f, si), f->decimals, false};
}

term sheet_constant(const sheet *s, double inch_pound, double metric, int decimals)
{
    return (term){s->metric ? metric : inch_pound, decimals, true};
}

const char *sheet_show(const sheet *s, measure m, double si)
{
    static _Thread_local char texts[8][64];
    static _Thread_local int next;
    const quantity_form *f = form_of(s, m);
    char number[40];
    next = (next + 1) % 8;
    write_number(number, quantity_show(f, si), f->decimals);
    snprintf(texts[next], sizeof texts[next], "%s%s%s", number, ct_units_gap(f->unit), f->unit);
    return texts[next];
}

/* ---- Items ----------------------------------------------------------------------- */

void sheet_section(sheet *s, const char *heading)
{
    add(s, SECTION, heading);
}

void sheet_numbered(sheet *s, const char *heading)
{
    char text[TEXT_SIZE];
    snprintf(text, sizeof text, "%d  %s", ++s->numbered, heading);
    sheet_section(s, text);
}

void sheet_stage(sheet *s, const char *stage)
{
    s->stage = stage;
}

void sheet_say(sheet *s, const char *format, ...)
{
    char text[1200];
    va_list values;
    va_start(values, format);
    vsnprintf(text, sizeof text, format, values);
    va_end(values);
    add(s, SENTENCE, text);
}

static item *add_value(sheet *s, item_kind kind, const char *name, const char *label, measure m,
                       double si)
{
    const quantity_form *f = form_of(s, m);
    char number[40];
    item *i = add(s, kind, label);
    if (!i) return NULL;
    i->v = quantity_show(f, si);
    i->unit = f->unit;
    write_number(number, i->v, f->decimals);
    i->name = copy(s, name);
    i->shown = copy(s, number);
    if (!isfinite(i->v) && !s->wrong[0]) snprintf(s->wrong, sizeof s->wrong, "%s", name);
    return i;
}

void sheet_given(sheet *s, const char *name, const char *label, measure m, double si)
{
    add_value(s, GIVEN, name, label, m, si);
}

static void put_in(char *text, const char *pattern, const term *terms, int extra)
{
    size_t n = 0;
    for (const char *c = pattern; *c && n + 48 < TEXT_SIZE; c++) {
        char number[40];
        if (*c != '#') {
            text[n++] = *c;
            continue;
        }
        write_number(number, terms->v, terms->decimals + extra);
        if (terms->literal) trim_zeros(number, terms->decimals);
        terms++;
        n += (size_t)sprintf(text + n, number[0] == '-' ? "(%s)" : "%s", number);
    }
    text[n] = '\0';
}

/* Does the printed sum give the printed result? When it falls just between two roundings, as a
 * round ratio can, either will do. */
static bool gives(const char *sum, const char *shown, int decimals)
{
    char text[40];
    double v;
    if (!arithmetic(sum, &v)) return false;
    write_number(text, v, decimals);
    if (strcmp(text, shown) == 0) return true;
    return fabs(v - strtod(shown, NULL)) <= 0.5 * pow(10, -decimals) * (1 + 1e-9);
}

void sheet_sum(sheet *s, const sum_of *of, const char *pattern, const term *terms)
{
    char sum[TEXT_SIZE];
    item *i = add_value(s, SUM, of->name, of->label, of->m, of->si);
    if (!i || !i->shown) return;
    for (int extra = 0; extra <= EXTRA_DECIMALS; extra++) {
        put_in(sum, pattern, terms, extra);
        if (!gives(sum, i->shown, form_of(s, of->m)->decimals)) continue;
        i->formula = copy(s, of->formula);
        i->sum = copy(s, sum);
        return;
    }
    if (!s->wrong[0])
        snprintf(s->wrong, sizeof s->wrong, "%.60s: %s = %s", of->name, sum, i->shown);
}

/* ---- Text ------------------------------------------------------------------------ */

static void write_sum(FILE *out, const item *i)
{
    char line[TEXT_SIZE + 120];
    snprintf(line, sizeof line, "%s: %s", i->text, i->formula);
    paragraph_wrap(out, line, "   ", 5);
    const int length = snprintf(line, sizeof line, "%s ", i->sum);
    char *result = line + length;
    snprintf(result, sizeof line - (size_t)length, "= %s%s%s", i->shown, ct_units_gap(i->unit),
             i->unit);
    for (char *c = result; *c; c++)
        if (*c == ' ') *c = TIED;
    paragraph_wrap(out, line, "      ", 9);
}

static void write_text(const sheet *s, FILE *out)
{
    paragraph_wrap(out, s->title, "", 0);
    for (size_t k = 0; k < s->n; k++) {
        const item *i = &s->items[k];
        const bool after_given = k > 0 && s->items[k - 1].kind == GIVEN;
        switch (i->kind) {
        case SECTION: fprintf(out, "\n%s\n\n", i->text); break;
        case SENTENCE:
            if (after_given) fputc('\n', out);
            paragraph_wrap(out, i->text, "   ", 3);
            fputc('\n', out);
            break;
        case GIVEN:
            fprintf(out, "   %-52s%12s%s%s\n", i->text, i->shown, ct_units_gap(i->unit), i->unit);
            break;
        case SUM:
            if (after_given) fputc('\n', out);
            write_sum(out, i);
            fputc('\n', out);
            break;
        }
    }
}

/* ---- JSON ------------------------------------------------------------------------ */

static json_t *json_of(const item *i)
{
    static const char *const kinds[] = {"section", "text", "given", "sum"};
    json_t *o = json_object();
    bool good = put_text(o, "kind", kinds[i->kind]);
    if (i->kind == SENTENCE) return json_when(good && put_text(o, "text", i->text), o);
    good = good && put_text(o, "name", i->name) && put_text(o, "label", i->text) &&
           json_object_set_new(o, "value", json_real(i->v)) == 0 && put_text(o, "unit", i->unit) &&
           put_text(o, "shown", i->shown);
    if (i->kind == SUM)
        good = good && put_text(o, "formula", i->formula) && put_text(o, "sum", i->sum);
    return json_when(good, o);
}

static bool fill(json_t *root, const sheet *s)
{
    bool good =
        put_text(root, "title", s->title) && put_some_text(root, "stage", s->stage ? s->stage : "");
    json_t *sections = open_array(root, "sections"), *items = NULL;
    for (size_t k = 0; good && k < s->n; k++) {
        if (s->items[k].kind == SECTION) {
            json_t *section = open_item(sections);
            good = put_text(section, "heading", s->items[k].text);
            items = open_array(section, "items");
        } else {
            good = json_array_append_new(items, json_of(&s->items[k])) == 0;
        }
    }
    return good && sections;
}

static bool write_json(const sheet *s, FILE *out)
{
    json_t *root = json_object();
    const bool good = fill(root, s);
    return print_answer(out, json_when(good, root), 12);
}

bool sheet_write(const sheet *s, FILE *out, bool json)
{
    if (s->no_memory) {
        complain("out of memory");
        return false;
    }
    if (s->wrong[0]) {
        complain("a step does not give its printed result, which is an error in this program: %s",
                 s->wrong);
        return false;
    }
    if (json) return write_json(s, out);
    write_text(s, out);
    return true;
}
