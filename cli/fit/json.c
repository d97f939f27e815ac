#include "fit/json.h"

#include "fit/text.h"
#include "show/json_out.h"
#include "show/quantity.h"

static bool put_cabinet(json_t *unit, const ct_cabinet *cabinet, bool si)
{
    json_t *o = open_object(unit, "cabinet");
    if (!o || !put_number(o, "width", Q_SIZE, cabinet->width, si) ||
        !put_number(o, "depth", Q_SIZE, cabinet->depth, si) ||
        !put_number(o, "height", Q_SIZE, cabinet->height, si) ||
        !put_integer(o, "sections", cabinet->sections))
        return false;
    return put_number(o, "section_height", Q_SIZE, cabinet->section_height, si);
}

static bool put_passage(json_t *place, const char *name, const ct_passage *p, ct_opening_kind kind,
                        const double box[3], bool si)
{
    static const char *const ways[] = {"square", "rolled", "tipped"};
    char words[FIT_TEXT_SIZE];
    json_t *o = open_object(place, name);
    fit_way_text(p, kind, box, words);
    return o && put_bool(o, "passes", p->fits) && put_number(o, "slack", Q_SIZE, p->margin, si) &&
           put_text(o, "way", ways[p->way]) && put_number(o, "angle", Q_ANGLE, p->angle, si) &&
           put_text(o, "lead", fit_edge_word(p->lead)) &&
           put_text(o, "across", fit_edge_word(p->across)) &&
           put_text(o, "up", fit_edge_word(p->up)) && put_bool(o, "sidestep", p->sidestep) &&
           put_text(o, "words", words);
}

static bool put_way_in(json_t *unit, const ct_case *c, const ct_cabinet *cabinet,
                       const ct_fit_report *r, bool si)
{
    const double box[3] = {cabinet->width, cabinet->depth, cabinet->height};
    const double part[3] = {cabinet->width, cabinet->depth, cabinet->section_height};
    json_t *places = open_array(unit, "way_in");
    for (int i = 0; places && i < c->n_openings; i++) {
        const ct_opening *o = &c->opening[i];
        json_t *place = open_item(places);
        if (!place || !put_text(place, "name", o->name) ||
            !put_text(place, "kind", fit_kind_word(o->kind)) ||
            !put_passage(place, "whole", &r->whole[i], o->kind, box, si))
            return false;
        if (cabinet->sections > 1 &&
            !put_passage(place, "section", &r->piece[i], o->kind, part, si))
            return false;
    }
    return places != NULL;
}

static bool put_space(json_t *unit, const ct_fit_report *r, bool si)
{
    const ct_placement *p = &r->place;
    json_t *o = open_object(unit, "space");
    return o && put_bool(o, "fits", p->fits) && put_bool(o, "upright", p->upright) &&
           put_text(o, "front_along", p->turned ? "width" : "depth") &&
           put_number(o, "slack_width", Q_SIZE, p->margin[0], si) &&
           put_number(o, "slack_depth", Q_SIZE, p->margin[1], si) &&
           put_number(o, "slack_height", Q_SIZE, p->margin[2], si) &&
           put_number(o, "front_free", Q_SIZE, p->front_free, si);
}

static bool put_service(json_t *unit, const ct_cabinet *cabinet, const ct_fit_report *r, bool si)
{
    if (r->has_filter) {
        json_t *o = open_object(unit, "filter");
        if (!o || !put_bool(o, "ok", r->filter_ok) ||
            !put_number(o, "length", Q_SIZE, cabinet->filter.v, si))
            return false;
    }
    if (!r->has_drain) return true;
    json_t *o = open_object(unit, "condensate");
    return o && put_bool(o, "ok", r->drain_ok) &&
           put_number(o, "fall_available", Q_SIZE, r->fall_free, si) &&
           put_number(o, "fall_needed", Q_SIZE, r->fall_needed, si);
}

static bool put_judgment(json_t *unit, const ct_case *c, int i, const ct_fit_report *r, bool si)
{
    static const char *const verdicts[] = {"fits", "fits_tilted", "fits_in_sections",
                                           "does_not_fit"};
    const ct_cabinet *cabinet = &c->indoor[i].cabinet;
    return put_text(unit, "verdict", verdicts[r->verdict]) &&
           put_number(unit, "slack", Q_SIZE, r->margin, si) &&
           put_text(unit, "tightest",
                    r->tightest == CT_FIT_SPACE ? "space" : c->opening[r->tightest].name) &&
           put_way_in(unit, c, cabinet, r, si) && (!c->space.has || put_space(unit, r, si)) &&
           put_service(unit, cabinet, r, si);
}

static bool put_checklist(json_t *unit, const ct_case *c, int i, const fit_answer *a, bool metric)
{
    fit_line line[FIT_MAX_LINES];
    const int n = fit_checklist(c, i, a, metric, line);
    json_t *lines = open_array(unit, "checklist");
    for (int k = 0; lines && k < n; k++) {
        json_t *o = open_item(lines);
        if (!o || !put_text(o, "mark", fit_mark_word(line[k].mark)) ||
            !put_text(o, "topic", line[k].topic) || !put_text(o, "text", line[k].text))
            return false;
    }
    return lines != NULL;
}

static bool put_unit(json_t *units, const ct_case *c, int i, const fit_answer *a, const verdict *v,
                     bool si)
{
    const ct_indoor_unit *u = &c->indoor[i];
    json_t *o = open_item(units);
    if (!o || !put_text(o, "name", u->name)) return false;
    json_t *may = open_object(o, "installation");
    if (!may || !verdict_put(may, v)) return false;
    if (u->cabinet.has && !put_cabinet(o, &u->cabinet, si)) return false;
    const bool good = a->judged ? put_judgment(o, c, i, &a->report, si)
                                : json_object_set_new(o, "verdict", json_null()) == 0;
    return good && put_checklist(o, c, i, a, si);
}

bool fit_json_print(FILE *out, const ct_case *c, const fit_answer *a, const verdict *v, bool si)
{
    json_t *root = json_object();
    json_t *units = open_array(root, "units");
    bool good = units && put_text(root, "basis", fit_basis);
    for (int i = 0; i < c->n_indoor && good; i++)
        good = put_unit(units, c, i, &a[i], &v[i], si);
    return print_answer(out, json_when(good, root), 12);
}
