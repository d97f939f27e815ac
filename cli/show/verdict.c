#include "show/verdict.h"

#include "base/paragraph.h"
#include "show/compatibility_words.h"
#include "show/json_out.h"

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
    v.has_checks = ct_checks_unit(c, r, unit, &v.checks, NULL) == CT_OK;
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
    check_explain(out, bit, &v->checks, v->unit, v->refrigerant, v->metric);
}

static void print_one(FILE *out, const verdict *v, int bit, char letter)
{
    const ct_finding kind = ct_check_kind(1u << bit);
    char first[FIRST_SIZE];
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    if (kind == CT_FINDING_REFUSES) fprintf(t, "%s: ", v->unit->name);
    explain(t, v, bit);
    fputc('.', t);
    snprintf(first, sizeof first, "%.1s%s%s", letter ? &letter : "", letter ? ": " : "",
             label[kind]);
    paragraph_print(&text, out, first, 3);
}

static void print_all(FILE *out, const verdict *v, char letter, bool refusals)
{
    for (int bit = 0; bit < CT_CHECK_COUNT; bit++)
        if (found(v, bit) && (ct_check_kind(1u << bit) == CT_FINDING_REFUSES) == refusals)
            print_one(out, v, bit, letter);
}

void verdict_print(FILE *out, const verdict *v, char letter)
{
    print_all(out, v, letter, true);
}

void verdict_print_findings(FILE *out, const verdict *v, char letter)
{
    print_all(out, v, letter, false);
}

static bool put_one(json_t *list, const verdict *v, int bit)
{
    const ct_finding kind = ct_check_kind(1u << bit);
    paragraph text;
    FILE *t = paragraph_open(&text);
    json_t *one = open_item(list);
    if (!t) return false;
    explain(t, v, bit);
    fclose(t);
    return one && put_text(one, "check", check_token(bit)) && put_text(one, "kind", token[kind]) &&
           put_bool(one, "refuses", kind == CT_FINDING_REFUSES) && put_text(one, "text", text.text);
}

bool verdict_put(json_t *object, const verdict *v)
{
    json_t *list = NULL;
    bool good =
        put_bool(object, "fits", !verdict_refuses(v)) && (list = open_array(object, "findings"));
    for (int bit = 0; good && bit < CT_CHECK_COUNT; bit++)
        if (found(v, bit)) good = put_one(list, v, bit);
    return good;
}

exit_code exit_code_answer(exit_code told, bool yes)
{
    return told == EXIT_DONE && !yes ? EXIT_NO_PICK : told;
}
