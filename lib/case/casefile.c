#include "case/casefile.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "case/conflicts.h"
#include "case/defaults.h"
#include "case/fill.h"
#include "case/keys.h"
#include "case/meter_keys.h"
#include "case/note.h"
#include "case/take.h"
#include "case/usual_size.h"
#include "case/write.h"

/* Choices are stored through the table as int. */
_Static_assert(sizeof(ct_fin) == sizeof(int) && sizeof(ct_motor) == sizeof(int) &&
                   sizeof(ct_meter_kind) == sizeof(int) && sizeof(ct_growth) == sizeof(int) &&
                   sizeof(ct_opening_kind) == sizeof(int),
               "an enum of the case is as wide as int");

_Static_assert(CT_KEY_PATH == CT_PATH_SIZE, "the public size is ours");

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

/* Keys of which a file has one: what is given in a table or on a command line replaces all of its
 * group. */
static const char *const instead[][4] = {
    {"outdoor.rated_eer", "outdoor.rated_seer", "outdoor.rated_eer2", "outdoor.rated_seer2"},
    {"outdoor.rated_saturated_discharge", "outdoor.vintage", NULL},
    {"indoor.coil.size", "indoor.coil.tons", NULL},
    {"site.indoor_air.relative_humidity", "site.indoor_air.wet_bulb", "site.indoor_air.dew_point"},
};

static void take_others_out(ct_node *root, const char *path, ct_node_from from)
{
    for (size_t g = 0; g < sizeof instead / sizeof instead[0]; g++) {
        int at = -1;
        for (int k = 0; k < 4 && instead[g][k]; k++)
            if (strcmp(path, instead[g][k]) == 0) at = k;
        for (int k = 0; at >= 0 && k < 4 && instead[g][k]; k++) {
            const ct_node *other = k == at ? NULL : ct_tree_find(root, instead[g][k]);
            /* Two on the same command line, or in one row, contradict each other and stay. */
            if (other && other->from < from)
                ct_tree_put(root, instead[g][k], NULL, CT_LINE_OF_PAIR);
        }
    }
}

static bool is_list(const char *path)
{
    const ct_key *k = ct_key_find(&ct_case_keys, path);
    return k && (k->type == CT_KEY_LIST || k->type == CT_KEY_LINE || k->type == CT_KEY_NUMBERS);
}

static ct_status put_override(ct_node *root, const ct_override *over, ct_case_report *report)
{
    const char *text = over->text;
    char path[CT_PATH_SIZE], advice[400];
    ct_case_fault bad;
    ct_key_own_path(&ct_case_keys, over->key, path);
    if (text && !ct_tree_is_text(text, strlen(text), &bad)) {
        ct_note_fault(report, bad.kind, over->line, over->key, text, "%s", bad.what);
        return CT_OK;
    }
    if (text && !ct_key_knows(&ct_case_keys, path, advice, sizeof advice)) {
        ct_note_fault(report, CT_CASE_UNKNOWN_KEY, over->line, over->key, over->key, "%s", advice);
        return CT_OK;
    }
    if (text) {
        take_others_out(root, path, ct_tree_from(over->line));
        ct_meter_keys_set_aside(root, path, text, ct_tree_from(over->line), report);
    }
    ct_status status = ct_tree_put(root, path, text, over->line);
    if (status == CT_OK && text && is_list(path) && text[0] == '[') {
        status = ct_tree_unfold(root, path, &bad);
        if (status == CT_INPUT)
            ct_note_fault(report, bad.kind, over->line, over->key, text, "no list: %s", bad.what);
        if (status == CT_INPUT) return CT_OK;
    }
    if (status != CT_INPUT) return status;
    ct_note_fault(report, CT_CASE_UNKNOWN_KEY, over->line, over->key, text ? text : "",
                  "the base case has no such place; an item of a list must be in it already; items "
                  "count from 1");
    return CT_OK;
}

/* The file with its overrides. CT_OK: *root may still have faults noted against it. */
static ct_status read_over(const char *text, size_t size, const ct_overrides *over, ct_node **root,
                           ct_case_report *report, ct_fault *fault)
{
    report->n_faults = report->n_assumed = report->n_set_aside = 0;
    report->n_celsius = report->n_fahrenheit = 0;
    ct_status status = ct_tree_read(text, size, root, &report->fault[0]);
    if (status == CT_OK && !*root && over->n > 0 && !(*root = ct_tree_empty())) status = CT_SYSTEM;
    if (status == CT_OK) ct_fill_names(&ct_case_keys, *root);
    for (int i = 0; i < over->n && status == CT_OK; i++)
        status = put_override(*root, &over->item[i], report);
    if (status == CT_OK && over->n > 0) ct_fill_names(&ct_case_keys, *root); /* of lists put in */
    if (status == CT_OK) return CT_OK;
    ct_tree_free(*root);
    *root = NULL;
    if (status == CT_SYSTEM) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    report->n_faults = 1;
    return ct_note_summary(report, fault);
}

static bool from_file(const ct_node *root, const char *section)
{
    const ct_node *node = ct_tree_find(root, section);
    return node && node->line != CT_LINE_OF_PAIR;
}

/* The two files exchanged, as in readings.c. Pairs do not make a case of it. */
static bool is_readings(const ct_node *root)
{
    static const char *const own[] = {"return_air", "supply_air", "outdoor_air",
                                      "suction",    "liquid",     "outdoor_unit"};
    int n = 0;
    for (int i = 0; i < 6; i++)
        n += from_file(root, own[i]);
    return n > 0 && !from_file(root, "house") && !from_file(root, "outdoor");
}

ct_status ct_casefile_parse_over(const char *text, size_t size, const ct_overrides *over,
                                 ct_case *c, ct_case_report *report, ct_fault *fault)
{
    assert(c && report);
    ct_node *root;
    const ct_status status = read_over(text, size, over, &root, report, fault);
    if (status != CT_OK) return status;
    if (is_readings(root)) {
        report->n_faults = 0; /* of pairs */
        ct_note_fault(report, CT_CASE_UNKNOWN_KEY, 0, "", "",
                      "these are readings of a visit, and a case belongs here");
        ct_tree_free(root);
        return ct_note_summary(report, fault);
    }
    ct_case scratch;
    memset(&scratch, 0, sizeof scratch);
    if (ct_usual_size(root, report) != CT_OK) {
        ct_tree_free(root);
        return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    }
    fill_case(root, &scratch, report);
    ct_tree_free(root);
    if (report->n_faults > 0) return ct_note_summary(report, fault);
    memcpy(c, &scratch, sizeof scratch);
    return CT_OK;
}

ct_status ct_casefile_merge(const char *text, size_t size, const ct_overrides *over,
                            const ct_case_report *report, char **out, ct_fault *fault)
{
    ct_case_report *scratch = malloc(sizeof *scratch);
    ct_node *root;
    if (!scratch) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    ct_status status = read_over(text, size, over, &root, scratch, fault);
    if (status == CT_OK) {
        *out = ct_write_tree(root, report);
        ct_tree_free(root);
        if (!*out) status = ct_fault_say(fault, CT_SYSTEM, "out of memory");
    }
    free(scratch);
    return status;
}

ct_status ct_casefile_try(const char *key, const char *text, ct_fault *fault)
{
    char path[CT_PATH_SIZE], copy[CT_TEXT_SIZE];
    ct_key_own_path(&ct_case_keys, key, path);
    const ct_key *k = ct_key_find(&ct_case_keys, path);
    if (!k || k->type < CT_KEY_NUMBER || k->type == CT_KEY_NUMBERS)
        return ct_fault_say(fault, CT_INPUT, "no such key with a single value: %s", key);
    if (strlen(text) >= sizeof copy) return ct_fault_say(fault, CT_INPUT, "too long");
    ct_case_report *report = calloc(1, sizeof *report);
    if (!report) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    union {
        double v;
        char text[CT_TEXT_SIZE];
    } to;
    snprintf(copy, sizeof copy, "%s", text);
    const ct_node node = {.kind = CT_NODE_TEXT, .text = copy};
    ct_case_fault bad;
    ct_status status = CT_OK;
    if (!ct_tree_is_text(copy, strlen(copy), &bad))
        status = ct_fault_say(fault, CT_INPUT, "%s", bad.what);
    else
        ct_take_value(&(ct_entry){k, path, &node, report}, to.text);
    if (report->n_faults > 0) status = ct_fault_say(fault, CT_INPUT, "%s", report->fault[0].what);
    free(report);
    return status;
}

bool ct_casefile_bore(const char *text, double *bore)
{
    return ct_take_bore(text, bore);
}

void ct_casefile_path(const char *given, char path[CT_KEY_PATH])
{
    ct_key_own_path(&ct_case_keys, given, path);
}

ct_status ct_casefile_parse(const char *text, size_t size, ct_case *c, ct_case_report *report,
                            ct_fault *fault)
{
    return ct_casefile_parse_over(text, size, &(ct_overrides){NULL, 0}, c, report, fault);
}

ct_status ct_casefile_load(const char *path, ct_case *c, ct_case_report *report, ct_fault *fault)
{
    assert(c && report);
    report->n_faults = report->n_assumed = report->n_set_aside = 0;
    report->n_celsius = report->n_fahrenheit = 0;
    char *text;
    size_t size;
    ct_status status = ct_tree_text(path, &text, &size, fault);
    if (status != CT_OK) return status;
    status = ct_casefile_parse(text, size, c, report, fault);
    free(text);
    return status;
}
