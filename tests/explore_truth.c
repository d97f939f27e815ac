/* What the library says at random places of the explore page's sliders, as JSON, for the browser to
 * hold the page against: each place worked out cold, by itself, without the page's tables.
 *
 *   explore_truth CASE PLACES
 *
 * A place is drawn from the whole range of the sliders (cli/explore/facts.c) of a unit, in the
 * units that people read. `close` says that a limit holds or fails by less than the page may be
 * off. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "crowd.h"
#include "job_of.h"
#include "show/json_out.h"
#include "show/quantity.h"

/* What the page may be off by: 0.3 % of the capacity, 0.2 F, half a point of humidity; 1 % of the
 * bound of other limits. */
#define OFF_CAPACITY 0.003
#define OFF_T (0.2 / 1.8)
#define OFF_HUMIDITY 0.005
#define OFF_OTHER 0.01

typedef struct {
    int unit;
    double air, T_out, rh, load; /* m3/s per ton, K, 0..1, W */
} place;

static place draw(const job *j, uint64_t *seed)
{
    const ct_sweep_range *r = &j->c->sweep;
    place at = {.unit = (int)(between(seed, 0, 1) * j->c->n_indoor) % j->c->n_indoor};
    at.air = between(seed, r->V_per_ton_min, r->V_per_ton_max);
    at.T_out = between(seed, ct_K_from_F(70), ct_K_from_F(115));
    at.rh = between(seed, 0.30, 0.70);
    at.load = between(seed, 0.5, 1.4) * j->c->house.Q_sensible;
    return at;
}

/* Equipment, charge and blower of the case; the weather and load of the place. */
static void work_out(job *j, const place *at, ct_point *p)
{
    static ct_case c;
    ct_sweep_job here;
    ct_fault fault;
    if (job_join(j, at->unit, &here) != EXIT_DONE) abort();
    c = *j->c;
    here.c = &c;
    here.T_out = c.site.T_outdoor = at->T_out;
    c.house.Q_sensible = at->load;
    if (ct_air_from_rh(here.indoor.T, at->rh, here.indoor.p, &here.indoor, &fault) != CT_OK ||
        ct_sweep_airflow(j->solver, &here, at->air, p, &fault) != CT_OK)
        abort();
    /* The humidity the house settles at does not ask for the return air entered; the page tabulates
     * it in the case's. */
    ct_sweep_humidity(j->solver, &here, p);
}

static bool is_close(const ct_point *p)
{
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++) {
        const ct_judgment *l = &p->limit[i];
        const ct_unit_kind kind = ct_limit_of((ct_limit)i)->unit;
        double off = OFF_OTHER * fabs(l->bound);
        if (i == CT_LIMIT_BALANCE || l->verdict == CT_NOT_JUDGED) continue;
        if (kind == CT_UNIT_POWER) off = OFF_CAPACITY * p->balance.Q_net;
        if (kind == CT_UNIT_TEMPERATURE || kind == CT_UNIT_DELTA_T) off = OFF_T;
        if (i == CT_LIMIT_HUMIDITY) off = OFF_HUMIDITY;
        if (fabs(l->slack) < off) return true;
    }
    return false;
}

static const char *first_failing(const ct_point *p)
{
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (p->limit[i].verdict == CT_FAILS) return ct_limit_of((ct_limit)i)->token;
    return "";
}

static bool metric; /* as the page: a case with its temperatures in C */

static double show(quantity q, double v)
{
    return quantity_show(quantity_for_people(q, metric), v);
}

static void put(json_t *o, const char *name, double v)
{
    if (isfinite(v)) json_object_set_new(o, name, json_real(v));
}

static void put_values(json_t *values, const ct_point *p)
{
    const ct_balance *b = &p->balance;
    if (p->status != CT_OK) return;
    put(values, "total", show(Q_HEAT, b->Q_net));
    put(values, "sensible", show(Q_HEAT, b->Q_sens_net));
    put(values, "latent", show(Q_HEAT, b->Q_lat));
    put(values, "carried", show(Q_HEAT, p->Q_load_max));
    put(values, "suction", show(Q_TEMPERATURE, b->Te));
    put(values, "surface", show(Q_TEMPERATURE, b->T_surface));
    put(values, "supply", show(Q_TEMPERATURE, b->supply.T));
    put(values, "condensing", show(Q_TEMPERATURE, b->Tc));
    put(values, "superheat", show(Q_DELTA_T, b->superheat));
    put(values, "watts", show(Q_ELECTRIC, b->P_total));
    if (p->has_room) put(values, "settled_humidity", show(Q_FRACTION, p->room.rh));
}

static void put_place(json_t *list, const place *at, const ct_point *p)
{
    json_t *one = open_item(list), *where = open_array(one, "place");
    const double v[] = {show(Q_AIRFLOW_PER_TON, at->air), show(Q_TEMPERATURE, at->T_out),
                        show(Q_FRACTION, at->rh), show(Q_HEAT, at->load)};
    for (int i = 0; i < 4; i++)
        json_array_append_new(where, json_real(v[i]));
    put_integer(one, "unit", at->unit);
    put_values(open_object(one, "values"), p);
    put_bool(one, "passes", p->passes);
    put_text(one, "first", first_failing(p));
    put_bool(one, "close", is_close(p));
}

int main(int argc, char **argv)
{
    job j;
    uint64_t seed = 20;
    json_t *list = json_array();
    if (argc != 3 || job_of(argv[1], &j) != EXIT_DONE) return EXIT_FAILURE;
    metric = job_is_metric(&j, false);
    for (int i = 0; i < atoi(argv[2]); i++) {
        const place at = draw(&j, &seed);
        ct_point p;
        work_out(&j, &at, &p);
        put_place(list, &at, &p);
    }
    job_close(&j);
    return print_answer(stdout, list, 12) ? EXIT_SUCCESS : EXIT_FAILURE;
}
