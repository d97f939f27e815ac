#include "page/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/units.h"
#include "judge/hottest.h"
#include "study/uncertain.h"

static bool is_refused(const job *j, int i)
{
    ct_checks checks;
    return complain_had(
               ct_compatibility_checks(j->c, j->refrigerant, &j->c->indoor[i], &checks, NULL)) &&
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
    p->has_checks = complain_had(
        ct_compatibility_checks(j->c, j->refrigerant, page_indoor(p), &p->checks, NULL));
    p->has_switches = p->pick->found &&
                      complain_had(ct_switches_run(j->solver, &p->at, p->p, &p->switches, NULL));
    p->has_hottest = p->pick->found &&
                     complain_had(ct_hottest_day(j->solver, &p->at, p->p, &p->T_hottest, NULL));
}

/* Draws around the case: enough for the words of the terminal's thousand, a fraction of a
 * second. */
enum { DRAWS = 512 };

static void draw_around(page *p, ct_sweep *few, ct_uncertain *u)
{
    const ct_setup setup = job_setup(p->j, p->unit);
    const ct_uncertain_plan plan = {.samples = DRAWS};
    *few = *p->sweep;
    few->n = 1; /* without taps the pick is the one airflow, with them any */
    few->point[0] = *p->p;
    if (!complain_had(ct_uncertain_run(&setup, few, &plan, u, NULL))) return;
    const ct_uncertain_point *at = p->pick->from_taps ? &u->tap[p->pick->index] : &u->point[0];
    p->has_sure = isfinite(at->all);
    p->sure_all = at->all;
    p->sure_cool = at->limit[CT_LIMIT_SENSIBLE];
}

static void work_out_outlook(page *p)
{
    const ct_setup setup = job_setup(p->j, p->unit);
    p->outlook = (outlook){.job = &p->at, .sweep = p->sweep, .pick = p->pick};
    if (!p->candidate[p->unit].refused) complain_had(outlook_find(&setup, &p->outlook, NULL));
}

/* How sure the pick is. */
static void work_out_sure(page *p, ct_sweep *spare)
{
    if (!page_passes(p)) return;
    ct_uncertain *u = malloc(sizeof *u);
    if (u)
        draw_around(p, spare, u);
    else
        complain_incomplete();
    free(u);
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
    ct_meterstudy_outdoors(p->j->solver, &at->system, &now, &days, facts->own);
    facts->has_other =
        complain_had(ct_meterstudy_other(p->j->solver, &at->system, &now, &wanted, &other, NULL));
    if (facts->has_other) ct_meterstudy_outdoors(p->j->solver, &other, &now, &days, facts->other);
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
    work_out_sure(p, spare);
    work_out_outlook(p);
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
