/* The model: bytes become a case of allowed values, and whatever the reader takes is rated, swept,
 * compared and tuned. Each step gives numbers that hold together, or says why not.
 *
 * Three bytes are one entry: which key of the table, and where in its allowed range the value lies.
 * So nearly every input is a case, far from any that a person would write. */
#include <math.h>

#include "fuzz.h"
#include "judge/pick.h"
#include "study/compare.h"
#include "study/tune.h"

enum { MOST = 24, VALUE = 64 };

#define COIL                                                                                       \
    "{face_area: 4.5 ft2, rows: 3, fin_spacing: 14 fins/in, tube_diameter: 0.375 in, circuits: 5}"

static const char *const base[] = {
    "site: {outdoor_dry_bulb: 95 F, outdoor_humidity: 40 %,\n"
    "       indoor_air: {dry_bulb: 75 F, relative_humidity: 50 %},\n"
    "       around_duct: {dry_bulb: 110 F, relative_humidity: 25 %}}\n"
    "house: {sensible_load: 22500 Btu/h, latent_load: 4500 Btu/h}\n"
    "outdoor: {refrigerant: R-410A, tons: 3 ton, rated_capacity: 35000 Btu/h, rated_eer: 10.5 "
    "Btu/Wh}\n"
    "duct: {static: 0.62 inwc, airflow: 1150 cfm}\n"
    "duct_losses: {supply_area: 150 ft2}\n"
    "indoor:\n"
    "  coil: {size: 1.3}\n"
    "  blower:\n"
    "    motor: psc\n"
    "    static_limit: 0.9 inwc\n"
    "    taps:\n"
    "      - {name: low, points: [[0.1 inwc, 950 cfm, 310 W], [0.8 inwc, 700 cfm, 270 W]]}\n"
    "      - {name: high, points: [[0.1 inwc, 1420 cfm, 560 W], [0.8 inwc, 1010 cfm, 470 W]]}\n",
    "site: {outdoor_dry_bulb: 98 F, indoor_air: {dry_bulb: 76 F, wet_bulb: 64 F}}\n"
    "house: {sensible_load: 24000 Btu/h, latent_load: 5000 Btu/h}\n"
    "outdoor: {refrigerant: R-22, tons: 3 ton, rated_capacity: 36000 Btu/h, rated_seer: 10 "
    "Btu/Wh}\n"
    "indoor: {coil: {size: 1.2}, metering: {kind: orifice, bore: 0.065 in}}\n",
    "site: {outdoor_dry_bulb: 40 C, indoor_air: {dry_bulb: 24 C, relative_humidity: 55 %}}\n"
    "house: {sensible_load: 7 kW, latent_load: 1.2 kW}\n"
    "outdoor: {refrigerant: R-407C, tons: 3 ton, rated_capacity: 10 kW, rated_eer: 10 Btu/Wh}\n"
    "matched_coil: " COIL "\n"
    "indoor: {coil: {geometry: " COIL "}}\n",
};
enum { BASES = sizeof base / sizeof *base };

/* "lo unit to hi unit", as the table of keys has it: the value `share` of the way. */
static bool between(const char *allowed, double share, char *text)
{
    char unit[24] = "";
    double low, high;
    const char *to = strstr(allowed, " to ");
    if (!to || sscanf(allowed, "%lf", &low) != 1 || sscanf(to + 4, "%lf %23s", &high, unit) < 1)
        return false;
    const double v = low + share * (high - low);
    snprintf(text, VALUE, "%.6g %s", fabs(share - floor(share * 16) / 16) < 1e-3 ? floor(v) : v,
             unit);
    return true;
}

/* One of "plain|wavy|louvered". */
static bool one_of(const char *allowed, unsigned which, char *text)
{
    unsigned n = 1;
    for (const char *p = allowed; *p; p++)
        n += *p == '|';
    for (which %= n; which; which--)
        allowed = strchr(allowed, '|') + 1;
    snprintf(text, VALUE, "%.*s", (int)strcspn(allowed, "|"), allowed);
    return allowed[0] != '\0';
}

static int key_count(void)
{
    static int n;
    ct_key_row row;
    while (ct_casefile_key(n, &row))
        n++;
    return n;
}

/* Sections that are whole or absent, and have no part in the balance. */
static bool is_elsewhere(const char *key)
{
    static const char *const section[] = {"job.", "space.", "indoor.cabinet.",
                                          "outdoor.compressor_map."};
    for (size_t i = 0; i < sizeof section / sizeof *section; i++)
        if (strncmp(key, section[i], strlen(section[i])) == 0) return true;
    return false;
}

/* False for a key that has no range of its own, or sits in a list. */
static bool entry(const uint8_t *byte, const char **key, char *text)
{
    ct_key_row row;
    ct_casefile_key(byte[0] % key_count(), &row);
    *key = row.key;
    if (strchr(row.key, '[') || !row.allowed || is_elsewhere(row.key)) return false;
    const unsigned at = byte[1] * 256u + byte[2];
    if (strcmp(row.key, "outdoor.refrigerant") == 0)
        return one_of("R-22|R-410A|R-407C|R-32|R-454B", at, text);
    if (strchr(row.allowed, '|')) return one_of(row.allowed, at, text);
    return between(row.allowed, at / 65535.0, text);
}

static bool read_case(const uint8_t *data, size_t size, ct_case *c)
{
    static ct_case_report report;
    static char text[MOST][VALUE];
    ct_override over[MOST + 1];
    ct_fault fault = {.what = ""};
    int n = 0;
    for (size_t i = 1; i + 3 <= size && n < MOST; i += 3) {
        const char *key;
        if (entry(data + i, &key, text[n])) {
            over[n] = (ct_override){.key = key, .text = text[n], .line = CT_LINE_OF_PAIR};
            n++;
        }
    }
    over[n++] = (ct_override){.key = "sweep.points", .text = "4", .line = 0};
    const char *start = base[data[0] % BASES];
    const ct_status status =
        ct_casefile_parse_over(start, strlen(start), &(ct_overrides){over, n}, c, &report, &fault);
    fuzz_check_report(status, &report, 1000);
    return status == CT_OK;
}

/* Heat of the outdoor unit, air and refrigerant, and water, close; nothing is other than a
 * number. */
static void check_balance(const ct_balance *b, double m_da)
{
    HOLDS(b->outcome == CT_BALANCED);
    HOLDS(isfinite(b->Te) && isfinite(b->Tc) && b->Tc > b->Te && b->m_r > 0 && b->P_compressor > 0);
    HOLDS(fabs(b->residual_low) < CT_BALANCE_TOL && fabs(b->residual_high) < CT_BALANCE_TOL);
    HOLDS(fabs(b->Q_condenser - b->Q - b->P_compressor - b->Q_line) <= 1e-8 * b->Q);
    const double air = m_da * (ct_air_h(b->in.T, b->in.W) - ct_air_h(b->out.T, b->out.W));
    HOLDS(fabs(air - b->h_water - b->Q) <= 1e-8 * b->Q);
    HOLDS(b->water >= 0 && fabs(m_da * (b->in.W - b->out.W) - b->water) <= 1e-9 * m_da * b->in.W);
    HOLDS(fabs(b->Q_sens + b->Q_lat - b->Q) <= 1e-9 * b->Q);
    HOLDS(b->quality_out >= 0 && b->quality_out <= 1 && isfinite(b->EER) && isfinite(b->SHR));
}

static void check_point(const ct_point *p)
{
    if (p->status != CT_OK) {
        HOLDS(p->why[0] && fuzz_is_clean(p->why) && !p->passes);
        return;
    }
    check_balance(&p->balance, p->m_da);
    HOLDS(isfinite(p->Q_house) && isfinite(p->V_std) && p->V_std > 0);
    for (int i = 0; i < CT_LIMIT_COUNT; i++) {
        const ct_judgment *j = &p->limit[i];
        if (j->verdict == CT_PASSES || j->verdict == CT_FAILS)
            HOLDS(isfinite(j->slack) && (j->slack >= 0) == (j->verdict == CT_PASSES));
    }
    if (p->has_room) HOLDS(p->room.rh > 0 && p->room.rh <= 1 + 1e-12);
}

static void check_sweep(const ct_sweep_job *job, const ct_sweep *sweep)
{
    static ct_pick pick;
    for (int i = 0; i < sweep->n; i++)
        check_point(&sweep->point[i]);
    for (int i = 0; i < sweep->n_taps; i++)
        check_point(&sweep->tap[i]);
    ct_pick_lowest(job, sweep, &pick);
    const ct_point *p = ct_pick_point(&pick, sweep);
    HOLDS(!pick.found || (p && p->passes && p->status == CT_OK));
    HOLDS(!(pick.refused && pick.found));
}

/* What a gauge set would read on this balance, two of three readings off by a little. */
static void tune(const ct_setup *s, const ct_balance *b, const uint8_t *data, size_t size)
{
    static ct_tune out;
    ct_fault fault = {.what = ""};
    ct_readings r = {0};
    const double off[] = {(data[size - 1] - 128) / 40.0, (data[size / 2] - 128) / 40.0};
    const struct {
        ct_reading_kind kind;
        double v;
    } read[] = {{CT_RETURN_DRY_BULB, b->in.T},
                {CT_SUPPLY_DRY_BULB, b->supply.T + off[0]},
                {CT_OUTDOOR_DRY_BULB, s->c->site.T_outdoor},
                {CT_SUCTION_PRESSURE, b->p_suction - CT_ATM_PA},
                {CT_SUCTION_TEMPERATURE, b->T_suction + off[1]}};
    for (size_t i = 0; i < sizeof read / sizeof *read; i++)
        r.r[read[i].kind] = (ct_reading){
            .has = true, .v = read[i].v, .u = ct_reading_margin(read[i].kind, read[i].v)};
    if (ct_tune_run(s, &r, &out, &fault) != CT_OK) {
        HOLDS(fault.what[0]);
        return;
    }
    for (int i = 0; i < CT_TUNE_COUNT; i++)
        if (out.value[i].fitted) HOLDS(isfinite(out.value[i].value) && out.value[i].u > 0);
}

static const ct_refrigerant *refrigerant(const char *name)
{
    static struct {
        char name[CT_NAME_SIZE];
        ct_refrigerant *made;
    } seen[16];
    size_t i = 0;
    while (seen[i].made && strcmp(seen[i].name, name) != 0)
        i++;
    HOLDS(i < sizeof seen / sizeof *seen);
    if (!seen[i].made) {
        ct_fault fault = {.what = ""};
        HOLDS(ct_refrigerant_make(name, &seen[i].made, &fault) == CT_OK);
        snprintf(seen[i].name, sizeof seen[i].name, "%s", name);
    }
    return seen[i].made;
}

static void study(const ct_setup *s, ct_sweep_job *job, const uint8_t *data, size_t size)
{
    static ct_sweep sweep, other;
    static ct_comparison comparison;
    ct_fault fault = {.what = ""};
    if (ct_sweep_run(s->solver, job, &sweep, &fault) != CT_OK) {
        HOLDS(fault.what[0]);
        return;
    }
    check_sweep(job, &sweep);
    if (data[0] & 0x40 && ct_compare_unit(s, &other, &comparison, &fault) != CT_OK)
        HOLDS(fault.what[0]);
    if (data[0] & 0x80 && sweep.n && sweep.point[0].status == CT_OK)
        tune(s, &sweep.point[0].balance, data, size);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static ct_case c;
    static ct_sweep_job job;
    static ct_solver *solver;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration calibration;
    ct_fault fault = {.what = ""};
    if (!solver) HOLDS(ct_solver_make(&solver, &fault) == CT_OK);
    if (size < 4 || !read_case(data, size, &c)) return 0;
    const ct_refrigerant *r = refrigerant(c.outdoor.refrigerant);
    const ct_setup setup = {solver, &c, &outdoor, &matched, 0};
    if (ct_setup_rate(&c, r, &outdoor, &matched, &calibration, &fault) != CT_OK ||
        ct_sweep_prepare(&setup, &job, &fault) != CT_OK)
        HOLDS(fault.what[0] && fuzz_is_clean(fault.what));
    else
        study(&setup, &job, data, size);
    return 0;
}
