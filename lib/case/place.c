#include "case/place.h"

ct_path ct_place_path(const ct_place *p, const char *key)
{
    ct_path full;
    ct_key_path_join(full.text, p->shown, key);
    return full;
}

const ct_node *ct_place_at(const ct_place *p, const char *key)
{
    return ct_tree_find(p->node, key);
}

int ct_place_line(const ct_place *p, const char *key)
{
    const ct_node *node = ct_place_at(p, key);
    return node ? node->line : p->node ? p->node->line : 0;
}

const char *ct_place_text(const ct_place *p, const char *key)
{
    const ct_node *node = ct_place_at(p, key);
    return node && node->text ? node->text : "";
}

void ct_place_needs(const ct_place *p, const char *a, const char *b, const char *advice)
{
    if (!ct_place_at(p, a) || ct_place_at(p, b)) return;
    ct_place_fault(p, CT_CASE_INCOMPLETE, a, "needs '%s' beside it; %s", b, advice);
}

void ct_place_not_both(const ct_place *p, const char *a, const char *b, const char *advice)
{
    if (!ct_place_at(p, a) || !ct_place_at(p, b)) return;
    if (ct_place_line(p, a) > 0)
        ct_place_fault(p, CT_CASE_CONFLICT, b, "contradicts '%s' in line %d; %s", a,
                       ct_place_line(p, a), advice);
    else
        ct_place_fault(p, CT_CASE_CONFLICT, b, "contradicts '%s'; %s", a, advice);
}

ct_place ct_place_section(ct_reader *r, const char *name)
{
    return (ct_place){r, ct_tree_find(r->root, name), name};
}

void ct_place_each_unit(ct_reader *r, ct_case *c, ct_place_visit *visit)
{
    const ct_place unit = ct_place_section(r, "indoor");
    visit(&unit, c, 0);
    const ct_node *list = ct_tree_find(r->root, "candidates");
    const ct_node *node = list ? list->first : NULL;
    for (int i = 1; node && i < c->n_indoor; i++, node = node->next) {
        char shown[CT_PATH_SIZE];
        ct_key_path_item(shown, "candidates", i - 1);
        visit(&(ct_place){r, node, shown}, c, i);
    }
}

void ct_place_each_opening(ct_reader *r, ct_case *c, ct_place_visit *visit)
{
    const ct_node *list = ct_tree_find(r->root, "way_in");
    const ct_node *node = list ? list->first : NULL;
    for (int i = 0; node && i < c->n_openings; i++, node = node->next) {
        char shown[CT_PATH_SIZE];
        ct_key_path_item(shown, "way_in", i);
        visit(&(ct_place){r, node, shown}, c, i);
    }
}
