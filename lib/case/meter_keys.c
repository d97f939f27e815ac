#include "case/meter_keys.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "case/keys.h"
#include "case/note.h"

#define KIND ".metering.kind"

const char *ct_meter_key(ct_meter_kind kind, int i)
{
    static const char *const of_valve[] = {"superheat", "rated_capacity", "rated_drop", NULL};
    static const char *const of_piston[] = {"bore", "length", NULL};
    const char *const *list = kind == CT_METER_VALVE ? of_valve : of_piston;

    for (int k = 0; k < i; k++)
        if (!list[k]) return NULL;
    return list[i];
}

/* The unit a path of its metering leads through: "indoor", or an item of the candidates. */
static const ct_node *unit_at(const ct_node *root, const char *path)
{
    static const char item[] = "candidates[";
    const ct_node *list = ct_tree_find(root, "candidates");

    if (strcmp(path, "indoor" KIND) == 0) return ct_tree_find(root, "indoor");
    if (strncmp(path, item, sizeof item - 1) != 0 || !list) return NULL;
    const ct_node *unit = list->first;
    const long n = strtol(path + sizeof item - 1, NULL, 10);
    for (long i = 1; unit && i < n; i++)
        unit = unit->next;
    return unit;
}

void ct_meter_keys_set_aside(ct_node *root, const char *path, const char *text, ct_node_from from,
                             ct_case_report *report)
{
    const size_t length = strlen(path), tail = strlen(KIND);
    if (length < tail || strcmp(path + length - tail, KIND) != 0) return;
    const int kind = ct_key_word(ct_key_find(&ct_case_keys, "indoor" KIND), text, NULL);
    const ct_node *unit = unit_at(root, path);
    if (!unit || (kind != CT_METER_VALVE && kind != CT_METER_ORIFICE)) return;
    const ct_meter_kind other = kind == CT_METER_VALVE ? CT_METER_ORIFICE : CT_METER_VALVE;
    const char *key;
    for (int i = 0; (key = ct_meter_key(other, i)); i++) {
        char full[CT_PATH_SIZE], below[CT_PATH_SIZE];
        snprintf(below, sizeof below, "metering.%s", key);
        const ct_node *node = ct_tree_find(unit, below);
        if (!node || node->from >= from) continue;
        snprintf(full, sizeof full, "%.*s%s", (int)(length - strlen("kind")), path, key);
        ct_note_set_aside(report, full, node->text ? node->text : "", text);
        ct_tree_put(root, full, NULL, CT_LINE_OF_PAIR);
    }
}
