#include "judge/hottest.h"
#include "page/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/units.h"

static bool is_refused(const job *j, int i)
{
    ct_checks checks;
    return ct_checks_unit(j->c, j->refrigerant, &j->c->indoor[i], &checks, NULL) == CT_OK &&
           checks.refuse;
}

static ct_status work_out_unit(const job *j, int i, ct_sweep *sweep, ct_comparison *row,
                               ct_fault *fault)
{
    const ct_setup setup = job_setup(j, i);
    return ct_compare_unit(&setup, sweep, row, fault);
}

/* The other indoor units, each at its own pick; `spare` is room for a sweep. */
static void work_out_candidates(page *p, ct_sweep *spare)
{
    for (int i = 0; i < p->j->c->n_indoor; i++) {
        page_candidate *candidate = &p->candidate[i];
        ct_fault fault;
        if (i == p->unit) continue;
        candidate->has = work_out_unit(p->j, i, spare, &candidate->row, &fault) == CT_OK;
        candidate->refused = is_refused(p->j, i);
        if (!candidate->has) snprintf(candidate->why, sizeof candidate->why, "%s", fault.what);
    }
}

static void work_out_matched(page *p)
{
    const ct_setup setup = job_setup(p->j, p->unit);
    ct_fault fault;
    p->has_matched = ct_compare_matched(&setup, &p->matched, &fault) == CT_OK;
    if (!p->has_matched) snprintf(p->matched_why, sizeof p->matched_why, "%s", fault.what);
}

static void work_out_extras(page *p)
{
    const job *j = p->j;
    p->has_checks = ct_checks_unit(j->c, j->refrigerant, page_indoor(p), &p->checks, NULL) == CT_OK;
    p->has_hottest =
        p->pick->found && ct_hottest_day(j->solver, &p->at, p->p, &p->T_hottest, NULL) == CT_OK;
}

/* Superheat from a mild to a very hot day, with the device fitted and with the other kind. */
static void study(const page *p, picture_facts *facts)
{
    const ct_sweep_job *at = &p->at;
    const ct_conditions now = {at->indoor, at->T_out, p->p->m_da, p->p->P_blower};
    const ct_steps days = {ct_K_from_F(70), ct_K_from_F(115), STUDY_POINTS};
    const bool valve = at->system.meter.kind == CT_METER_VALVE;
    const ct_meter_wanted wanted = {valve ? at->system.meter.superheat
                                          : p->j->c->outdoor.superheat_rated,
                                    page_indoor(p)->meter.length};
    ct_system other;
    if (p->p->status != CT_OK) return;
    facts->has_study = true;
    ct_study_outdoors(p->j->solver, &at->system, &now, &days, facts->own);
    facts->has_other =
        ct_study_other(p->j->solver, &at->system, &now, &wanted, &other, NULL) == CT_OK;
    if (facts->has_other) ct_study_outdoors(p->j->solver, &other, &now, &days, facts->other);
}

static void draw(page *p)
{
    picture_facts facts = {.at = &p->at, .sweep = p->sweep, .pick = p->pick, .metric = p->metric};
    study(p, &facts);
    page_pictures_draw(&facts, &p->pictures);
    if (p->pictures.why[0]) complain("the page is made without plots: %s", p->pictures.why);
}

static exit_code work_out(page *p, ct_sweep *spare)
{
    page_candidate *own = &p->candidate[p->unit];
    ct_fault fault;
    const exit_code code = job_join(p->j, p->unit, &p->at);
    if (code != EXIT_DONE) return code;
    if (work_out_unit(p->j, p->unit, p->sweep, &own->row, &fault) != CT_OK)
        return complain_fault(&fault);
    own->has = true;
    own->refused = is_refused(p->j, p->unit);
    p->pick = &own->row.pick;
    p->p = p->pick->found ? ct_pick_point(p->pick, p->sweep) : &own->row.at.point;
    work_out_candidates(p, spare);
    work_out_matched(p);
    work_out_extras(p);
    if (fit_judge(p->j->c, p->unit, &p->fit, &fault) != CT_OK) return complain_fault(&fault);
    page_readings_work_out(p->j->solver, &p->at, p->p, p->metric, &p->readings);
    draw(p);
    return EXIT_DONE;
}

exit_code page_work_out(job *j, int unit, bool metric, page *p)
{
    *p = (page){.j = j, .unit = unit, .metric = metric, .sweep = malloc(sizeof *p->sweep)};
    ct_sweep *spare = malloc(sizeof *spare);
    exit_code code = EXIT_SYSTEM;
    if (p->sweep && spare)
        code = work_out(p, spare);
    else
        complain("%s: out of memory", j->path);
    free(spare);
    if (code != EXIT_DONE) page_free(p);
    return code;
}

void page_free(page *p)
{
    free(p->sweep);
    page_pictures_free(&p->pictures);
    *p = (page){0};
}

bool page_passes(const page *p)
{
    return p->pick->found && !p->candidate[p->unit].refused;
}

const ct_indoor_unit *page_indoor(const page *p)
{
    return &p->j->c->indoor[p->unit];
}

static bool letter_or_digit(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

void page_degrees(char *to, size_t size, const char *from)
{
    size_t n = 0;
    for (const char *c = from; *c && n + 4 < size; c++) {
        const bool unit = (*c == 'F' || *c == 'C') && c - from >= 2 && c[-1] == ' ' &&
                          c[-2] >= '0' && c[-2] <= '9' && !letter_or_digit(c[1]);
        if (unit) n += (size_t)snprintf(to + n, size - n, "°");
        to[n++] = *c;
    }
    to[n] = '\0';
}

page_value page_show(const page *p, quantity q, double v)
{
    char plain[SHOWN_SIZE];
    page_value value;
    page_degrees(value.text, sizeof value.text, shown(plain, q, v, p->metric));
    return value;
}

page_value page_about(const page *p, quantity q, double v)
{
    const quantity_form *form = quantity_for_people(q, p->metric);
    const bool whole = q == Q_TEMPERATURE || q == Q_FRACTION;
    if (!whole || !isfinite(v)) return page_show(p, q, v);
    page_value value =
        page_show(p, q, (round(quantity_show(form, v)) - form->offset) / form->factor);
    char *point = strstr(value.text, ".0");
    if (point) memmove(point, point + 2, strlen(point + 2) + 1);
    return value;
}

page_value page_spread(const page *p, quantity q, double v)
{
    page_value value = page_show(p, q, v);
    char *gauge = strstr(value.text, p->metric ? " gauge" : "g");
    if (q == Q_PRESSURE_GAUGE && gauge) *gauge = '\0';
    return value;
}

page_value page_difference(const page *p, quantity q, double dv, const char *more, const char *less)
{
    const quantity_form *form = quantity_for_people(q, p->metric);
    const double step = 0.5 * pow(10, -form->decimals);
    page_value value = {"not known"};
    if (!isfinite(dv)) return value;
    if (fabs(dv * form->factor) < step) return (page_value){"the same"};
    value = page_spread(p, q, fabs(dv));
    const size_t used = strlen(value.text);
    snprintf(value.text + used, sizeof value.text - used, " %s", dv > 0 ? more : less);
    return value;
}

page_value page_speed(const page *p, const ct_point *point)
{
    page_value value;
    if (point->tap < 0) return page_show(p, Q_AIRFLOW, point->V);
    snprintf(value.text, sizeof value.text, "“%s”", page_indoor(p)->blower.tap[point->tap].name);
    return value;
}
