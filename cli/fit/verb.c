#include <ctype.h>
#include <string.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/job.h"
#include "base/paragraph.h"
#include "base/write_file.h"
#include "show/cabinet_words.h"
#include "show/json_out.h"
#include "show/quantity.h"
#include "verbs.h"

enum { SI, JSON, OUTPUT, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [SI] = {SI_ROW("millimetres; SI units in JSON")},
    [JSON] = {JSON_ROW("JSON instead of a list")},
    [OUTPUT] = {OUTPUT_FILE_ROW},
};

/* ---- for people ---- */

enum { LINE_INDENT = 8 };

static void print_unit(FILE *out, const ct_case *c, int unit, const fit_answer *a, bool metric)
{
    static const char *const marks[] = {
        [FIT_GOOD] = "  [ok]  ", [FIT_BAD] = "  [NO]  ", [FIT_ASK] = "  [ ? ] "};
    fit_line line[FIT_MAX_LINES];
    char text[FIT_TEXT_SIZE];
    fprintf(out, "%s\n", c->indoor[unit].name);
    fit_cabinet_text(&c->indoor[unit].cabinet, metric, text);
    if (text[0]) {
        static const char first[] = "  Cabinet: ";
        wrap(out, text, first, (int)strlen(first));
    }
    fit_headline(c, unit, a, metric, text);
    text[0] = (char)toupper((unsigned char)text[0]);
    wrap(out, text, "  ", 2);
    const int n = fit_checklist(c, unit, a, metric, line);
    for (int i = 0; i < n; i++)
        wrap(out, line[i].text, marks[line[i].mark], LINE_INDENT);
}

#define BASIS                                                                                      \
    "The box is rigid; nothing is taken off for hands, straps and padding: judge what is to "      \
    "spare. Installed it stands, or lies on a side; lying on its back is never assumed."

static bool print_list(FILE *out, const ct_case *c, const fit_answer *a, bool metric)
{
    fputs("Way in and place\n", out);
    for (int i = 0; i < c->n_indoor; i++) {
        fputc('\n', out);
        print_unit(out, c, i, &a[i], metric);
    }
    fputc('\n', out);
    wrap(out, BASIS, "", 0);
    return true;
}

/* ---- for programs ---- */

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

static bool put_judgement(json_t *unit, const ct_case *c, int i, const ct_fit_report *r, bool si)
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

static bool put_unit(json_t *units, const ct_case *c, int i, const fit_answer *a, bool si)
{
    const ct_indoor_unit *u = &c->indoor[i];
    json_t *o = open_item(units);
    if (!o || !put_text(o, "name", u->name)) return false;
    if (u->cabinet.has && !put_cabinet(o, &u->cabinet, si)) return false;
    const bool good = a->judged ? put_judgement(o, c, i, &a->report, si)
                                : json_object_set_new(o, "verdict", json_null()) == 0;
    return good && put_checklist(o, c, i, a, si);
}

static bool print_json(FILE *out, const ct_case *c, const fit_answer *a, bool si)
{
    json_t *root = json_object();
    json_t *units = open_array(root, "units");
    bool good = units && put_text(root, "basis", BASIS);
    for (int i = 0; i < c->n_indoor && good; i++)
        good = put_unit(units, c, i, &a[i], si);
    return print_answer(out, json_when(good, root), 12);
}

/* ---- the verb ---- */

static exit_code write_answers(const ct_case *c, const fit_answer *a, const option_value *o)
{
    const char *path = o[OUTPUT].text;
    const bool metric = o[SI].given;
    write_file file = {.stream = stdout};
    if (path && !write_file_open(&file, path)) return EXIT_SYSTEM;
    const bool good = o[JSON].given ? print_json(file.stream, c, a, metric)
                                    : print_list(file.stream, c, a, metric);
    if (!path) return good ? EXIT_DONE : EXIT_SYSTEM;
    if (good) return write_file_close(&file) ? EXIT_DONE : EXIT_SYSTEM;
    write_file_drop(&file);
    return EXIT_SYSTEM;
}

/* Not one unit judged is no answer, so a script must not take it for "fits". */
static exit_code code_of(const ct_case *c, const fit_answer *a, const char *path)
{
    bool judged = false, refused = false;
    for (int i = 0; i < c->n_indoor; i++) {
        judged = judged || a[i].judged;
        refused = refused || (a[i].judged && a[i].report.verdict == CT_FIT_NO);
    }
    if (refused) return EXIT_NO_PICK;
    if (judged) return EXIT_DONE;
    complain("%s: nothing to judge: give a cabinet, and way_in or space", path);
    return EXIT_INPUT;
}

static exit_code judge(const job *j, const option_value *o)
{
    fit_answer answers[CT_MAX_INDOOR];
    ct_fault fault;
    for (int i = 0; i < j->c->n_indoor; i++)
        if (fit_judge(j->c, i, &answers[i], &fault) != CT_OK) return complain_fault(&fault);
    const exit_code code = write_answers(j->c, answers, o);
    return code == EXIT_DONE ? code_of(j->c, answers, j->path) : code;
}

static exit_code run(const arguments *args)
{
    job j;
    exit_code code = job_open_case(args->operand[0], &j);
    if (code != EXIT_DONE) return code;
    code = judge(&j, args->option);
    job_close(&j);
    return code;
}

const verb verb_fit = {
    .name = "fit",
    .purpose = "Does the cabinet go in, and stand with room for service?",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Tries every indoor unit of the case (indoor and candidates) at every narrow\n"
               "place of way_in in every position, whole and in sections, and in the space\n"
               "where it is to stand. Of what the case does not tell it says which key to add.\n"
               "Exit code 10 when a unit does not fit; 3 when nothing could be judged. What is\n"
               "amiss only with filter, condensate or service is marked in the list and leaves\n"
               "the code at 0.\n",
    .example = "  coiltrim fit examples/r22-larger-coil.yaml\n",
    .run = run,
};
