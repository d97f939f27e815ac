#include "case/casefile.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "case/conflicts.h"
#include "case/defaults.h"
#include "case/fill.h"
#include "case/keys.h"
#include "case/note.h"

/* Choices are stored through the table as int. */
_Static_assert(sizeof(ct_fin) == sizeof(int) && sizeof(ct_motor) == sizeof(int) &&
                   sizeof(ct_meter_kind) == sizeof(int) && sizeof(ct_growth) == sizeof(int) &&
                   sizeof(ct_opening_kind) == sizeof(int),
               "an enum of the case is as wide as int");

bool ct_casefile_key(int i, ct_key_row *row)
{
    return ct_key_public(&ct_case_keys, i, row);
}

static void fill_case(const ct_node *root, ct_case *c, ct_case_report *report)
{
    ct_reader r = {.keys = &ct_case_keys, .root = root, .report = report};
    c->n_indoor = 1; /* the list of candidates adds to it */
    ct_fill(&r, c);
    ct_conflicts(&r, c);
    if (report->n_faults == 0) ct_defaults(&r, c);
    ct_note_sort(report);
}

static ct_status put_overrides(ct_node *root, const ct_overrides *overrides, ct_case_report *report)
{
    const ct_override *over = overrides->item;
    for (int i = 0; i < overrides->n; i++) {
        const char *text = over[i].text;
        ct_case_fault bad;
        if (text && !ct_tree_is_text(text, strlen(text), &bad)) {
            ct_note_fault(report, bad.kind, over[i].line, over[i].key, text, "%s", bad.what);
            continue;
        }
        char path[CT_PATH_SIZE];
        ct_key_own_path(&ct_case_keys, over[i].key, path);
        const ct_status status = ct_tree_put(root, path, text, over[i].line);
        if (status == CT_SYSTEM) return status;
        if (status != CT_OK)
            ct_note_fault(report, CT_CASE_UNKNOWN_KEY, over[i].line, over[i].key, text ? text : "",
                          "the base case has no such place; an item of a list must be in it "
                          "already; items count from 1");
    }
    return CT_OK;
}

ct_status ct_casefile_parse_over(const char *text, size_t size, const ct_overrides *over,
                                 ct_case *c, ct_case_report *report, ct_fault *fault)
{
    assert(c && report && (text || size == 0));
    ct_node *root;
    report->n_faults = report->n_assumed = 0;
    report->n_celsius = report->n_fahrenheit = 0;
    ct_status status = ct_tree_read(text, size, &root, &report->fault[0]);
    if (status == CT_OK && !root && over->n > 0 && !(root = ct_tree_empty())) status = CT_SYSTEM;
    if (status == CT_OK) ct_fill_names(&ct_case_keys, root);
    if (status == CT_OK) status = put_overrides(root, over, report);
    if (status == CT_SYSTEM) {
        ct_tree_free(root);
        return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    }
    if (status != CT_OK) {
        report->n_faults = 1;
        return ct_note_summary(report, fault);
    }
    ct_case scratch;
    memset(&scratch, 0, sizeof scratch);
    fill_case(root, &scratch, report);
    ct_tree_free(root);
    if (report->n_faults > 0) return ct_note_summary(report, fault);
    memcpy(c, &scratch, sizeof scratch);
    return CT_OK;
}

ct_status ct_casefile_parse(const char *text, size_t size, ct_case *c, ct_case_report *report,
                            ct_fault *fault)
{
    return ct_casefile_parse_over(text, size, &(ct_overrides){NULL, 0}, c, report, fault);
}

ct_status ct_casefile_load(const char *path, ct_case *c, ct_case_report *report, ct_fault *fault)
{
    assert(path && c && report);
    report->n_faults = report->n_assumed = 0;
    report->n_celsius = report->n_fahrenheit = 0;
    char *text;
    size_t size;
    ct_status status = ct_tree_text(path, &text, &size, fault);
    if (status != CT_OK) return status;
    status = ct_casefile_parse(text, size, c, report, fault);
    free(text);
    return status;
}
