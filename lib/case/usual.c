#include "case/usual.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "base/units.h"
#include "case/key_rows.h"
#include "case/keys.h"
#include "case/note.h"
#include "case/usual_size.h"

/* Common practice, no source, all three: the airflow ducts of a house in service let through, and
 * the design load of the house a unit of that size was bought for. The last is a guess, and its
 * doubt is set wide. */
#define CFM_PER_TON 360.0
#define SENSIBLE_SHARE 0.65 /* of the rated capacity */
#define LATENT_SHARE 0.13
#define HALF_TON 0.5

typedef struct {
    const ct_overrides *given;
    ct_usual *out;
    int n;
} answers;

static const char *text_of(const answers *a, const char *key)
{
    char path[CT_PATH_SIZE];
    for (int i = a->given->n - 1; i >= 0; i--) {
        ct_key_own_path(&ct_case_keys, a->given->item[i].key, path);
        if (strcmp(path, key) == 0) return a->given->item[i].text;
    }
    for (int i = 0; i < a->n; i++)
        if (strcmp(a->out[i].key, key) == 0) return a->out[i].text;
    return NULL;
}

/* NaN when it is not there or does not read. */
static double value_of(const answers *a, const char *key)
{
    const char *text = text_of(a, key);
    double v;
    if (text && ct_units_read(text, ct_key_find(&ct_case_keys, key)->unit, &v, NULL) == CT_OK)
        return v;
    return NAN;
}

static void add(answers *a, const char *key, const char *text, const char *why)
{
    if (text_of(a, key) || a->n == CT_USUAL_MAX) return;
    ct_usual *u = &a->out[a->n++];
    u->key = key;
    snprintf(u->text, sizeof u->text, "%s", text);
    u->guess = strncmp(why, CT_USUAL_GUESS, strlen(CT_USUAL_GUESS)) == 0;
    snprintf(u->why, sizeof u->why, "%s", why);
}

static void add_number(answers *a, const char *key, double v, const char *unit, const char *why)
{
    char number[32], text[48];
    if (!isfinite(v)) return;
    const double step = v > 1000.0 ? 100.0 : v > 100.0 ? 10.0 : HALF_TON;
    snprintf(text, sizeof text, "%s %s",
             ct_number_write(round(v / step) * step, 9, number, sizeof number), unit);
    add(a, key, text, why);
}

static void add_weather(answers *a)
{
    add(a, "site.outdoor_dry_bulb", "95 F", "the rating's own; look up your design day");
    add(a, "site.indoor_air.dry_bulb", "75 F", "usual design temperature; " PRACTICE);
    if (!text_of(a, "site.indoor_air.wet_bulb") && !text_of(a, "site.indoor_air.dew_point"))
        add(a, "site.indoor_air.relative_humidity", "50%", "usual design humidity; " PRACTICE);
}

/* US federal minimum since January 2006: SEER 13, about when R-410A took over; from memory. */
static void add_refrigerant(answers *a)
{
    double label = value_of(a, "outdoor.rated_seer") / CT_W_PER_BTUH;
    if (!isfinite(label)) label = value_of(a, "outdoor.rated_eer") / CT_W_PER_BTUH + 1.0;
    const bool old = label < 12.5;
    add(a, "outdoor.refrigerant", old ? "R-22" : "R-410A",
        CT_USUAL_GUESS " by the efficiency label, or without one; read the nameplate");
}

static void add_size_of_amps(answers *a)
{
    const double amps = value_of(a, "outdoor.rated_load_amps");
    const double volts = text_of(a, "outdoor.volts") ? value_of(a, "outdoor.volts") : 230.0;
    if (!isfinite(amps) || text_of(a, "outdoor.tons") || text_of(a, "outdoor.rated_capacity"))
        return;
    add_number(a, "outdoor.tons", ct_usual_tons(amps, volts), "ton", CT_USUAL_TONS_WHY);
}

static void add_size(answers *a)
{
    const double Q = value_of(a, "outdoor.rated_capacity");
    if (isfinite(Q))
        add_number(a, "outdoor.tons", ct_usual_tons_of(Q), "ton", CT_USUAL_TONS_OF_CAPACITY_WHY);
    add_number(a, "outdoor.rated_capacity", CT_USUAL_PER_TON * value_of(a, "outdoor.tons"), "Btu/h",
               CT_USUAL_CAPACITY_WHY);
}

static void add_efficiency(answers *a)
{
    if (text_of(a, "outdoor.rated_eer") || text_of(a, "outdoor.rated_seer") ||
        text_of(a, "outdoor.rated_eer2") || text_of(a, "outdoor.rated_seer2"))
        return;
    const char *refrigerant = text_of(a, "outdoor.refrigerant");
    const bool old = refrigerant && strstr(refrigerant, "22");
    add(a, "outdoor.rated_seer", old ? "10 Btu/Wh" : "13 Btu/Wh",
        "the US minimum when units with this refrigerant were sold; from memory");
}

/* The load follows from something else (study/ways.h), and is not guessed. */
static bool load_follows(const answers *a)
{
    return text_of(a, "house.run_time.minutes") || text_of(a, "house.floor_area");
}

static void add_load(answers *a)
{
    static const char doubt[] = "the load is a guess, so its doubt is wide";
    const double Q = value_of(a, "outdoor.rated_capacity") / CT_W_PER_BTUH;
    const bool guessed = !text_of(a, "house.sensible_load");
    if (load_follows(a)) return;
    add_number(a, "house.sensible_load", SENSIBLE_SHARE * Q, "Btu/h",
               CT_USUAL_GUESS
               ": 65% of the rated capacity; the pick depends on it, so give your own");
    /* One that cannot be read is a fault by itself, and no reason to ask for the latent one. */
    const double given = value_of(a, "house.sensible_load") / CT_W_PER_BTUH;
    const double load = isfinite(given) ? given : SENSIBLE_SHARE * Q;
    add_number(a, "house.latent_load", LATENT_SHARE / SENSIBLE_SHARE * load, "Btu/h",
               CT_USUAL_GUESS ": a fifth of the sensible load; give your own");
    if (guessed) add(a, "uncertainty.load", "20%", doubt);
}

/* One half of a duct point is worth keeping: the other is what is usual. */
static void add_duct(answers *a)
{
    static const char *const ways[] = {"duct.tap", "duct.tap_points", "duct.heat_rise.rise",
                                       "duct.cooling_split.supply_wet_bulb", "duct.part_drop.drop"};
    const bool sides = text_of(a, "duct.return_static") && text_of(a, "duct.supply_static");
    bool follows = false;
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++)
        follows = follows || text_of(a, ways[i]);
    if (follows && !sides)
        add(a, "duct.static", "0.6 inwc", "usual for ducts in service; " PRACTICE);
    if (follows) return;
    if (sides || text_of(a, "duct.static")) {
        const bool open = !text_of(a, "duct.airflow");
        add_number(a, "duct.airflow", CFM_PER_TON * value_of(a, "outdoor.tons"), "cfm",
                   "360 cfm per ton at the static measured, within 15%; " PRACTICE);
        if (open) add(a, "uncertainty.duct_static", "20%", "its airflow is a usual value");
    } else if (text_of(a, "duct.airflow"))
        add(a, "duct.static", "0.6 inwc", "usual for ducts in service; " PRACTICE);
}

static void add_indoor(answers *a)
{
    if (!text_of(a, "indoor.coil.tons") && !text_of(a, "indoor.coil.sizes_up") &&
        !text_of(a, "indoor.coil.geometry.face_area"))
        add(a, "indoor.coil.size", "1", "a coil matched to the outdoor unit");
    if (text_of(a, "indoor.blower.taps")) {
        add(a, "indoor.blower.motor", "psc",
            CT_USUAL_GUESS ": most blowers with taps; read the plate");
        add(a, "indoor.blower.static_limit", "0.5 inwc", "most nameplates; " PRACTICE);
    }
    if (!text_of(a, "limits.furnace_output")) return;
    add(a, "limits.furnace_rise_min", "35 F",
        CT_USUAL_GUESS ": a usual range is 35 to 65 F; read the nameplate");
    add(a, "limits.furnace_rise_max", "65 F",
        CT_USUAL_GUESS ": a usual range is 35 to 65 F; read the nameplate");
    add(a, "indoor.blower.position", "before_coil", "a furnace blows through its cased coil");
}

int ct_usual_answers(const ct_overrides *given, ct_usual out[CT_USUAL_MAX])
{
    answers a = {given, out, 0};
    add_weather(&a);
    add_refrigerant(&a);
    add_size_of_amps(&a);
    add_size(&a);
    add_efficiency(&a);
    add_load(&a);
    add_duct(&a);
    add_indoor(&a);
    return a.n;
}

/* Listed before what the reader assumed: these weigh more. */
static void tell(ct_case_report *report, const ct_usual *usual, int n)
{
    const int room = CT_MAX_ASSUMED - report->n_assumed;
    if (n > room) report->n_assumed -= n - room;
    const int n_later = report->n_assumed;
    memmove(report->assumed + n, report->assumed, (size_t)n_later * sizeof *report->assumed);
    report->n_assumed = 0;
    for (int i = 0; i < n; i++) {
        double v = 0.0;
        ct_units_read(usual[i].text, ct_key_find(&ct_case_keys, usual[i].key)->unit, &v, NULL);
        ct_note_assumption(report, usual[i].key, v, usual[i].text, usual[i].why);
    }
    report->n_assumed = n + n_later;
}

/* One of them is enough for the others. */
static const char *const sizes[] = {"outdoor.tons", "outdoor.rated_capacity",
                                    "outdoor.rated_load_amps"};
enum { SIZES = sizeof sizes / sizeof sizes[0] };

static int n_kept(const ct_case_report *report)
{
    return report->n_faults < CT_MAX_CASE_FAULTS ? report->n_faults : CT_MAX_CASE_FAULTS;
}

static void keep_unknown_keys(ct_case_report *report)
{
    const int n = n_kept(report);
    report->n_faults = report->n_assumed = 0;
    for (int i = 0; i < n; i++)
        if (report->fault[i].kind == CT_CASE_UNKNOWN_KEY)
            report->fault[report->n_faults++] = report->fault[i];
}

static bool has_size(const answers *a)
{
    for (int i = 0; i < SIZES; i++)
        if (text_of(a, sizes[i])) return true;
    return false;
}

static bool size_is_wrong(const ct_case_report *report)
{
    for (int i = 0; i < n_kept(report); i++)
        for (int k = 0; k < SIZES; k++)
            if (report->fault[i].kind != CT_CASE_MISSING_KEY &&
                strcmp(report->fault[i].key, sizes[k]) == 0)
                return true;
    return false;
}

static bool is_worked_out(const answers *a, const char *key)
{
    for (int i = 0; i < a->n; i++)
        if (strcmp(a->out[i].key, key) == 0) return true;
    return false;
}

/* What is worked out from a wrong answer, or is missing for want of a size, follows from it. */
static void keep_causes(const answers *a, ct_case_report *report)
{
    const bool no_size = size_is_wrong(report);
    const int n = n_kept(report);
    int kept = 0;
    for (int i = 0; i < n; i++) {
        const ct_case_fault *f = &report->fault[i];
        const bool follows = no_size && f->kind == CT_CASE_MISSING_KEY;
        if (!follows && !is_worked_out(a, f->key)) report->fault[kept++] = *f;
    }
    if (kept > 0) report->n_faults = kept;
}

/* One question instead of a list of everything that follows from the size; before it keys that
 * nobody knows, for one of them may be the size misspelled. */
static ct_status no_size(const ct_overrides *given, ct_case *c, ct_case_report *report,
                         ct_fault *fault)
{
    if (ct_casefile_parse_over("", 0, given, c, report, fault) == CT_SYSTEM) return CT_SYSTEM;
    keep_unknown_keys(report);
    ct_note_fault(report, CT_CASE_MISSING_KEY, CT_LINE_OF_PAIR, "outdoor.tons", "",
                  "the size of the outdoor unit is missing; give its tons, as tons=3, its rated "
                  "capacity, as capacity=35000Btu/h, or the compressor's rated load amps, rla=17A");
    return ct_note_summary(report, fault);
}

ct_status ct_usual_case(const ct_overrides *given, ct_case *c, ct_case_report *report,
                        ct_fault *fault)
{
    ct_usual usual[CT_USUAL_MAX];
    const int n_usual = ct_usual_answers(given, usual);
    const answers known = {given, usual, n_usual};
    if (!has_size(&known)) return no_size(given, c, report, fault);
    const int n = given->n;
    ct_override *all = calloc((size_t)(n + n_usual) + 1, sizeof *all);
    if (!all) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    if (n > 0) memcpy(all, given->item, (size_t)n * sizeof *all);
    for (int i = 0; i < n_usual; i++)
        all[n + i] = (ct_override){usual[i].key, usual[i].text, CT_LINE_OF_PAIR};
    const ct_overrides over = {all, n + n_usual};
    const ct_status status = ct_casefile_parse_over("", 0, &over, c, report, fault);
    free(all);
    if (status == CT_OK) tell(report, usual, n_usual);
    if (status != CT_INPUT) return status;
    keep_causes(&known, report);
    return ct_note_summary(report, fault);
}
