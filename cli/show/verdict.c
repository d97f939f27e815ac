#include "show/verdict.h"

#include <math.h>

#include "base/paragraph.h"
#include "judge/oddities.h"
#include "show/compatibility_words.h"
#include "show/json_out.h"
#include "show/limit_words.h"

enum { FIRST_SIZE = 40 };

static const char *const label[] = {[CT_FINDING_REFUSES] = "DO NOT INSTALL, does not fit: ",
                                    [CT_FINDING_QUESTION] = "Question: ",
                                    [CT_FINDING_REMINDER] = "Reminder: ",
                                    [CT_FINDING_CAUTION] = "Caution: "};

static const char *const token[] = {[CT_FINDING_REFUSES] = "refuses",
                                    [CT_FINDING_QUESTION] = "question",
                                    [CT_FINDING_REMINDER] = "reminder",
                                    [CT_FINDING_CAUTION] = "caution"};

verdict verdict_of(const ct_case *c, const ct_refrigerant *r, const ct_indoor_unit *unit,
                   bool metric)
{
    verdict v = {.c = c, .refrigerant = r, .unit = unit, .metric = metric};
    v.has_checks = ct_compatibility_checks(c, r, unit, &v.checks, NULL) == CT_OK;
    return v;
}

bool verdict_refuses(const verdict *v)
{
    return v->has_checks && v->checks.refuse;
}

static bool found(const verdict *v, int bit)
{
    return v->has_checks && v->checks.found & 1u << bit;
}

static void explain(FILE *out, const verdict *v, int bit)
{
    compatibility_explain(out, bit, &v->checks, v->unit, v->refrigerant, v->metric);
}

static void print_one(FILE *out, const verdict *v, int bit, char letter)
{
    const ct_finding kind = ct_compatibility_kind(1u << bit);
    char first[FIRST_SIZE];
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    if (kind == CT_FINDING_REFUSES) fprintf(t, "%s: ", v->unit->name);
    explain(t, v, bit);
    fputc('.', t);
    snprintf(first, sizeof first, "%.1s%s%s", letter ? &letter : "", letter ? ": " : "",
             label[kind]);
    paragraph_print(&text, out, first, 2);
}

/* ---- Odd input ------------------------------------------------------------------- */

static const struct {
    const char *token, *text; /* the value is put in for "#", what is usual for "@" */
    quantity q;
    double low, high; /* usual, SI; high 0: none */
} odd_rows[CT_ODD_COUNT] = {
    {"capacity_per_ton",
     "the rated capacity is # per nominal ton, usual is @: check it and the tons", Q_HEAT,
     CT_ODD_CAPACITY_LOW, CT_ODD_CAPACITY_HIGH},
    {"load_per_ton", "the sensible load is # per nominal ton, usual is @: check it, and the tons",
     Q_HEAT, CT_ODD_LOAD_LOW, CT_ODD_LOAD_HIGH},
    {"rated_airflow_per_ton", "the rated airflow is # per nominal ton, usual is @: check it",
     Q_AIRFLOW, CT_ODD_AIRFLOW_LOW, CT_ODD_AIRFLOW_HIGH},
    {"duct_airflow_per_ton",
     "the airflow measured on the ducts is # per nominal ton, usual is @: check it", Q_AIRFLOW,
     CT_ODD_AIRFLOW_LOW, CT_ODD_AIRFLOW_HIGH},
    {"duct_static",
     "the static measured is #, usual is @: check where and in which unit it was read", Q_STATIC,
     CT_ODD_STATIC_LOW, CT_ODD_STATIC_HIGH},
    {"sensible_over_capacity",
     "the sensible load, #, is above the outdoor unit's whole rated capacity: check both", Q_HEAT,
     0, 0},
    {"tap_rises",
     "a blower tap moves more air at more static, which a psc motor does not: check the table",
     Q_PLAIN, 0, 0},
};

const char *verdict_odd_token(int bit)
{
    return odd_rows[bit].token;
}

static double odd_value(const ct_case *c, int bit)
{
    const ct_outdoor_unit *o = &c->outdoor;
    switch ((ct_oddity)(1 << bit)) {
    case CT_ODD_CAPACITY: return o->Q_net / o->tons;
    case CT_ODD_LOAD: return c->house.Q_sensible / o->tons;
    case CT_ODD_RATED_AIRFLOW: return o->V_rated_std / o->tons;
    case CT_ODD_DUCT_AIRFLOW: return c->duct.V / o->tons;
    case CT_ODD_STATIC: return c->duct.dp;
    case CT_ODD_SENSIBLE: return c->house.Q_sensible;
    case CT_ODD_TAP_RISES: break;
    }
    return NAN;
}

static void odd_explain(FILE *out, const verdict *v, int bit)
{
    char value[SHOWN_SIZE];
    for (const char *c = odd_rows[bit].text; *c; c++) {
        const quantity q = odd_rows[bit].q;
        if (*c == '#')
            fputs(shown(value, q, odd_value(v->c, bit), v->metric), out);
        else if (*c == '@')
            fprintf(out, "%s to %s", shown(value, q, odd_rows[bit].low, v->metric),
                    shown((char[SHOWN_SIZE]){0}, q, odd_rows[bit].high, v->metric));
        else
            fputc(*c, out);
    }
}

bool verdict_odd(FILE *out, const verdict *v, int bit)
{
    if (!(ct_oddities(v->c, v->unit) & 1u << bit)) return false;
    odd_explain(out, v, bit);
    return true;
}

static void print_odd(FILE *out, const verdict *v, char letter, int most)
{
    const unsigned odd = ct_oddities(v->c, v->unit);
    for (int bit = 0; bit < CT_ODD_COUNT && most > 0; bit++) {
        char first[FIRST_SIZE];
        paragraph text;
        FILE *t;
        if (!(odd & 1u << bit) || !(t = paragraph_open(&text))) continue;
        most--;
        odd_explain(t, v, bit);
        fputc('.', t);
        snprintf(first, sizeof first, "%.1s%s%s", letter ? &letter : "", letter ? ": " : "",
                 label[CT_FINDING_QUESTION]);
        paragraph_print(&text, out, first, 2);
    }
}

static bool put_odd(json_t *object, const verdict *v)
{
    const unsigned odd = ct_oddities(v->c, v->unit);
    json_t *list = open_array(object, "odd_input");
    bool good = list != NULL;
    for (int bit = 0; good && bit < CT_ODD_COUNT; bit++)
        if (odd & 1u << bit)
            good = json_array_append_new(list, json_string(odd_rows[bit].token)) == 0;
    return good;
}

static void print_all(FILE *out, const verdict *v, char letter, bool refusals)
{
    for (int bit = 0; bit < CT_CHECK_COUNT; bit++)
        if (found(v, bit) && (ct_compatibility_kind(1u << bit) == CT_FINDING_REFUSES) == refusals)
            print_one(out, v, bit, letter);
}

void verdict_print(FILE *out, const verdict *v, char letter)
{
    print_all(out, v, letter, true);
}

void verdict_print_first_odd(FILE *out, const verdict *v)
{
    print_odd(out, v, 0, 1);
}

void verdict_print_findings(FILE *out, const verdict *v, char letter)
{
    print_all(out, v, letter, false);
    print_odd(out, v, letter, CT_ODD_COUNT);
}

static bool put_one(json_t *list, const verdict *v, int bit)
{
    const ct_finding kind = ct_compatibility_kind(1u << bit);
    paragraph text;
    FILE *t = paragraph_open(&text);
    json_t *one = open_item(list);
    if (!t) return false;
    explain(t, v, bit);
    fclose(t);
    return one && put_text(one, "check", compatibility_token(bit)) &&
           put_text(one, "kind", token[kind]) &&
           put_bool(one, "refuses", kind == CT_FINDING_REFUSES) && put_text(one, "text", text.text);
}

bool verdict_put(json_t *object, const verdict *v)
{
    json_t *list = NULL;
    bool good =
        put_bool(object, "fits", !verdict_refuses(v)) && (list = open_array(object, "findings"));
    for (int bit = 0; good && bit < CT_CHECK_COUNT; bit++)
        if (found(v, bit)) good = put_one(list, v, bit);
    return good && put_odd(object, v);
}

typedef void explainer(FILE *, const verdict *, int bit);

static bool put_remark(json_t *list, const verdict *v, ct_finding kind, explainer *say, int bit)
{
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return false;
    fputs(label[kind], t);
    say(t, v, bit);
    fputc('.', t);
    fclose(t);
    return json_array_append_new(list, json_string(text.text)) == 0;
}

bool verdict_put_remarks(json_t *list, const verdict *v)
{
    const unsigned odd = ct_oddities(v->c, v->unit);
    bool good = true;
    for (int bit = 0; good && bit < CT_CHECK_COUNT; bit++) {
        const ct_finding kind = ct_compatibility_kind(1u << bit);
        if (found(v, bit) && kind != CT_FINDING_REFUSES)
            good = put_remark(list, v, kind, explain, bit);
    }
    for (int bit = 0; good && bit < CT_ODD_COUNT; bit++)
        if (odd & 1u << bit) good = put_remark(list, v, CT_FINDING_QUESTION, odd_explain, bit);
    return good;
}

exit_code verdict_exit_code(exit_code told, bool yes)
{
    return told == EXIT_DONE && !yes ? EXIT_NO_PICK : told;
}
