#include "sweep/columns.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "show/csv.h"
#include "show/limit_words.h"
#include "show/note_words.h"

enum { DIGITS = 9 }; /* far beyond any instrument; enough to compare two runs */

/* When a point has the value. */
typedef enum {
    ALWAYS,
    WITH_AIR,     /* the blower moves air against the ducts */
    WITH_STATIC,  /* the ducts are known */
    WITH_BALANCE, /* the system settles */
    WITH_ADP,
    WITH_DESIGN,     /* the house settles on the design day */
    WITH_MILD,       /* the mildest hour balances */
    WITH_BAND,       /* the house settles at several loads */
    WITH_ROOM,       /* the house settles */
    WITH_ROOM_FAN_ON /* the same with the blower always on */
} presence;

typedef struct {
    const char *name;
    quantity q;
    presence when;
    size_t offset;                                          /* of a double in ct_point, or */
    double (*number)(const sweep_view *, const ct_point *); /* a value worked out, or */
    const char *(*text)(const sweep_view *, const ct_point *, char[COLUMN_TEXT_SIZE]);
    const char *meaning;
} column;

static const char *tap_name(const sweep_view *view, const ct_point *p, char text[COLUMN_TEXT_SIZE])
{
    (void)text;
    return p->tap < 0 ? "" : view->job->unit->blower.tap[p->tap].name;
}

static const char *status_token(const sweep_view *view, const ct_point *p,
                                char text[COLUMN_TEXT_SIZE])
{
    (void)view;
    (void)text;
    return p->m_da > 0 ? outcome_token(p->balance.outcome) : "no_airflow";
}

static const char *reason(const sweep_view *view, const ct_point *p, char text[COLUMN_TEXT_SIZE])
{
    (void)view;
    (void)text;
    return p->why;
}

/* Names of the limits of one group that fail, with semicolons between. */
static const char *failing(const ct_point *p, int from, int to, char text[COLUMN_TEXT_SIZE])
{
    size_t used = 0;
    text[0] = '\0';
    for (int i = from; i < to; i++)
        if (p->limit[i].verdict == CT_FAILS && used < COLUMN_TEXT_SIZE)
            used += (size_t)snprintf(text + used, COLUMN_TEXT_SIZE - used, "%s%s", used ? ";" : "",
                                     ct_limit_of((ct_limit)i)->token);
    return text;
}

static const char *fails_on(const sweep_view *view, const ct_point *p, char text[COLUMN_TEXT_SIZE])
{
    (void)view;
    return failing(p, 0, CT_LIMIT_FIRST_ADVICE, text);
}

static const char *advised_by(const sweep_view *view, const ct_point *p,
                              char text[COLUMN_TEXT_SIZE])
{
    (void)view;
    return failing(p, CT_LIMIT_FIRST_ADVICE, CT_LIMIT_COUNT, text);
}

static const char *noted(const sweep_view *view, const ct_point *p, char text[COLUMN_TEXT_SIZE])
{
    size_t used = 0;
    (void)view;
    text[0] = '\0';
    for (int bit = 0; bit < CT_NOTE_COUNT; bit++)
        if (p->notes & 1u << bit && used < COLUMN_TEXT_SIZE)
            used += (size_t)snprintf(text + used, COLUMN_TEXT_SIZE - used, "%s%s", used ? ";" : "",
                                     note_token(1u << bit));
    return text;
}

static const char *metering(const sweep_view *view, const ct_point *p, char text[COLUMN_TEXT_SIZE])
{
    (void)view;
    (void)text;
    return p->status == CT_OK ? meter_token(p->meter) : "";
}

static double passes(const sweep_view *view, const ct_point *p)
{
    (void)view;
    return p->passes;
}

static double is_pick(const sweep_view *view, const ct_point *p)
{
    return p == ct_pick_point(view->pick, view->sweep);
}

static double suction_gauge(const sweep_view *view, const ct_point *p)
{
    return p->balance.p_suction - view->job->indoor.p;
}

static double discharge_gauge(const sweep_view *view, const ct_point *p)
{
    return p->balance.p_discharge - view->job->indoor.p;
}

static double supply_wet_bulb(const sweep_view *view, const ct_point *p)
{
    (void)view;
    double T;
    return ct_air_wet_bulb(&p->balance.supply, &T, NULL) == CT_OK ? T : (double)NAN;
}

static double supply_rh(const sweep_view *view, const ct_point *p)
{
    (void)view;
    return ct_air_rh(&p->balance.supply);
}

static double split(const sweep_view *view, const ct_point *p)
{
    return view->job->indoor.T - p->balance.supply.T;
}

/* offsetof of a member of a member is standard C. */
#define AT(member) .offset = offsetof(ct_point, member)

static const column columns[] = {
    {"tap", Q_PLAIN, ALWAYS, .text = tap_name, .meaning = "name of the blower tap"},
    {"cfm_per_ton", Q_AIRFLOW_PER_TON, WITH_AIR, AT(V_std_per_ton),
     .meaning = "standard airflow per nominal ton of the outdoor unit"},
    {"airflow_standard", Q_AIRFLOW, WITH_AIR, AT(V_std),
     .meaning = "airflow at standard density (0.075 lb/ft3 of dry air)"},
    {"airflow_actual", Q_AIRFLOW, WITH_AIR, AT(V),
     .meaning = "airflow at the density of the air at the blower"},
    {"external_static", Q_STATIC, WITH_STATIC, AT(dp),
     .meaning = "external static pressure the ducts need"},
    {"blower", Q_ELECTRIC, WITH_AIR, AT(P_blower),
     .meaning = "blower motor input, all of it heat in the air"},
    {"net_total", Q_HEAT, WITH_BALANCE, AT(balance.Q_net),
     .meaning = "total capacity, blower heat taken off"},
    {"net_sensible", Q_HEAT, WITH_BALANCE, AT(balance.Q_sens_net),
     .meaning = "sensible capacity in the return air entered, blower heat taken off"},
    {"net_latent", Q_HEAT, WITH_BALANCE, AT(balance.Q_lat),
     .meaning = "latent capacity; the blower heat does not change it"},
    {"gross_total", Q_HEAT, WITH_BALANCE, AT(balance.Q), .meaning = "total capacity at the coil"},
    {"gross_sensible", Q_HEAT, WITH_BALANCE, AT(balance.Q_sens),
     .meaning = "sensible capacity at the coil"},
    {"shr_net", Q_FRACTION, WITH_BALANCE, AT(balance.SHR_net),
     .meaning = "net sensible over net total"},
    {"shr_gross", Q_FRACTION, WITH_BALANCE, AT(balance.SHR),
     .meaning = "gross sensible over gross total"},
    {"load_carried", Q_HEAT, WITH_BALANCE, AT(Q_load_max),
     .meaning = "largest sensible load this airflow carries with the margin"},
    {"delivered_sensible", Q_HEAT, WITH_BALANCE, AT(Q_house),
     .meaning = "net sensible that reaches the rooms at the return air entered: less what ducts "
                "outside lose"},
    {"design_rh", Q_FRACTION, WITH_DESIGN, AT(design.room.rh),
     .meaning = "humidity the house settles at on the design day under its load and margin"},
    {"design_run_share", Q_FRACTION, WITH_DESIGN, AT(design.room.run),
     .meaning = "share of that hour the compressor runs"},
    {"design_sensible", Q_HEAT, WITH_DESIGN, AT(design.Q_house),
     .meaning =
         "net sensible that reaches the rooms in that air: what the load is judged by unless "
         "house.judge_load_at is entered"},
    {"mild_sat_suction", Q_TEMPERATURE, WITH_MILD, AT(Te_mild),
     .meaning = "saturated suction at the mildest hour (limits.frost_outdoor)"},
    {"mild_coil_surface", Q_TEMPERATURE, WITH_MILD, AT(T_surface_mild),
     .meaning = "coldest coil surface then"},
    {"sat_suction", Q_TEMPERATURE, WITH_BALANCE, AT(balance.Te),
     .meaning = "saturated suction (dew) temperature at the compressor"},
    {"sat_discharge", Q_TEMPERATURE, WITH_BALANCE, AT(balance.Tc),
     .meaning = "saturated discharge (dew) temperature"},
    {"suction", Q_PRESSURE_GAUGE, WITH_BALANCE, .number = suction_gauge,
     .meaning = "suction gauge pressure at the compressor, zeroed at that altitude"},
    {"discharge", Q_PRESSURE_GAUGE, WITH_BALANCE, .number = discharge_gauge,
     .meaning = "discharge gauge pressure, zeroed at that altitude"},
    {"superheat", Q_DELTA_T, WITH_BALANCE, AT(balance.superheat),
     .meaning = "superheat leaving the coil; 0 when it floods"},
    {"quality_out", Q_FRACTION, WITH_BALANCE, AT(balance.quality_out),
     .meaning = "vapor share by mass leaving the coil; 1 when superheated"},
    {"adp", Q_TEMPERATURE, WITH_ADP, AT(balance.ADP), .meaning = "apparatus dew point"},
    {"bypass", Q_FRACTION, WITH_ADP, AT(balance.bypass),
     .meaning = "bypass factor for that apparatus dew point"},
    {"coil_surface", Q_TEMPERATURE, WITH_BALANCE, AT(balance.T_surface),
     .meaning = "coldest coil surface at the return air entered"},
    {"dry_share", Q_FRACTION, WITH_BALANCE, AT(balance.dry_share),
     .meaning = "share of the air's way through the coil before water condenses"},
    {"supply_dry_bulb", Q_TEMPERATURE, WITH_BALANCE, AT(balance.supply.T),
     .meaning = "dry bulb leaving the unit"},
    {"supply_wet_bulb", Q_TEMPERATURE, WITH_BALANCE, .number = supply_wet_bulb,
     .meaning = "wet bulb leaving the unit"},
    {"supply_rh", Q_FRACTION, WITH_BALANCE, .number = supply_rh,
     .meaning = "relative humidity leaving the unit"},
    {"temperature_split", Q_DELTA_T, WITH_BALANCE, .number = split,
     .meaning = "return dry bulb less supply dry bulb"},
    {"water", Q_WATER_RATE, WITH_BALANCE, AT(balance.water),
     .meaning = "water down the drain while running"},
    {"compressor", Q_ELECTRIC, WITH_BALANCE, AT(balance.P_compressor),
     .meaning = "compressor input"},
    {"total_input", Q_ELECTRIC, WITH_BALANCE, AT(balance.P_total),
     .meaning = "compressor, outdoor fan and blower input"},
    {"eer", Q_EER, WITH_BALANCE, AT(balance.EER), .meaning = "net total over total input"},
    {"face_velocity", Q_VELOCITY, WITH_BALANCE, AT(V_face),
     .meaning = "air velocity at the coil face; empty when the face is not known"},
    {"duct_jacket", Q_TEMPERATURE, WITH_BALANCE, AT(T_jacket),
     .meaning =
         "outside of the supply duct's insulation; empty when the surroundings are not known"},
    {"valve_share", Q_FRACTION, WITH_BALANCE, AT(valve_share),
     .meaning =
         "flow the valve must pass over its flow at the rated opening; empty when not rated"},
    {"metering", Q_PLAIN, ALWAYS, .text = metering,
     .meaning = "copes, hunts, starves, floods, nearly_floods or not_rated"},
    {"rh_settled", Q_FRACTION, WITH_ROOM, AT(room.rh),
     .meaning = "humidity the house settles at, at house.humidity_load of its sensible load"},
    {"run_share", Q_FRACTION, WITH_ROOM, AT(room.run),
     .meaning = "share of the hour the compressor runs at that humidity"},
    {"water_settled", Q_WATER_DAY, WITH_ROOM, AT(room.water_per_day),
     .meaning =
         "water removed in a day at that humidity, equal to what comes in; below 0 where return "
         "leaks bring more than the coil takes"},
    {"rh_at_40_load", Q_FRACTION, WITH_BAND, AT(rh_band[0]),
     .meaning = "humidity the house settles at, at 40% of its sensible load"},
    {"rh_at_60_load", Q_FRACTION, WITH_BAND, AT(rh_band[1]), .meaning = "the same at 60%"},
    {"rh_at_80_load", Q_FRACTION, WITH_BAND, AT(rh_band[2]), .meaning = "the same at 80%"},
    {"rh_settled_fan_on", Q_FRACTION, WITH_ROOM_FAN_ON, AT(room_fan_on.rh),
     .meaning = "humidity the house settles at with the blower on all the time"},
    {"status", Q_PLAIN, ALWAYS, .text = status_token,
     .meaning = "balanced, no_airflow, or why there is no balance"},
    {"why", Q_PLAIN, ALWAYS, .text = reason,
     .meaning = "the same in a sentence; empty when balanced"},
    {"passes", Q_PLAIN, ALWAYS, .number = passes,
     .meaning = "1 when no deciding limit fails, else 0"},
    {"fails_on", Q_PLAIN, ALWAYS, .text = fails_on,
     .meaning = "deciding limits that fail, with ; between"},
    {"advice", Q_PLAIN, ALWAYS, .text = advised_by,
     .meaning = "advisory limits that fail, with ; between"},
    {"notes", Q_PLAIN, ALWAYS, .text = noted,
     .meaning = "what goes beyond its data, with ; between; empty for most"},
    {"pick", Q_PLAIN, ALWAYS, .number = is_pick, .meaning = "1 at the pick, else 0"},
};

int sweep_columns_count(void)
{
    return (int)(sizeof columns / sizeof columns[0]);
}

/* The one column whose customary name is its unit. */
void sweep_column_key(int i, bool si, char key[COLUMN_KEY_SIZE])
{
    const column *c = &columns[i];
    if (c->q == Q_AIRFLOW_PER_TON)
        snprintf(key, COLUMN_KEY_SIZE, "%s", quantity_ending(c->q, si));
    else
        quantity_key(key, COLUMN_KEY_SIZE, c->name, c->q, si);
}

const char *sweep_column_meaning(int i)
{
    return columns[i].meaning;
}

static bool is_there(const column *c, const ct_point *p)
{
    switch (c->when) {
    case ALWAYS: return true;
    case WITH_AIR: return p->m_da > 0;
    case WITH_STATIC: return p->has_dp;
    case WITH_BALANCE: return p->status == CT_OK;
    case WITH_ADP: return p->status == CT_OK && p->balance.has_adp;
    case WITH_DESIGN: return p->has_design;
    case WITH_MILD: return p->has_mild;
    case WITH_BAND: return p->has_band;
    case WITH_ROOM: return p->has_room;
    case WITH_ROOM_FAN_ON: return p->has_room_fan_on;
    }
    return false;
}

/* In the CSV's unit; NaN when the point has none. */
static double number_of(const column *c, const sweep_view *view, const ct_point *p, bool si)
{
    if (!is_there(c, p)) return NAN;
    double v;
    if (c->number)
        v = c->number(view, p);
    else
        memcpy(&v, (const char *)p + c->offset, sizeof v);
    return quantity_show(quantity_for_programs(c->q, si), v);
}

void sweep_columns_heading(csv_writer *csv, bool si)
{
    char key[COLUMN_KEY_SIZE];
    for (int i = 0; i < sweep_columns_count(); i++) {
        sweep_column_key(i, si, key);
        csv_text(csv, key);
    }
}

void sweep_columns_cells(csv_writer *csv, const sweep_view *view, const ct_point *p, bool si)
{
    char text[COLUMN_TEXT_SIZE];
    for (int i = 0; i < sweep_columns_count(); i++) {
        const column *c = &columns[i];
        if (p && c->text) {
            csv_text(csv, c->text(view, p, text));
            continue;
        }
        const double v = p ? number_of(c, view, p, si) : (double)NAN;
        if (isnan(v))
            csv_absent(csv);
        else
            csv_number(csv, v, DIGITS);
    }
}

bool sweep_columns_csv(FILE *out, const sweep_view *view, const ct_point *points, int n, bool si)
{
    csv_writer csv;
    csv_begin(&csv, out);
    sweep_columns_heading(&csv, si);
    csv_end_row(&csv);
    for (int i = 0; i < n; i++) {
        sweep_columns_cells(&csv, view, &points[i], si);
        csv_end_row(&csv);
    }
    return csv_good(&csv);
}

static json_t *value_json(const column *c, const sweep_view *view, const ct_point *p, bool si)
{
    char text[COLUMN_TEXT_SIZE];
    if (c->text) return json_string(c->text(view, p, text));
    const double v = number_of(c, view, p, si);
    if (c->number == passes || c->number == is_pick) return json_boolean(v > 0);
    return isfinite(v) ? json_real(v) : json_null();
}

json_t *sweep_columns_json(const sweep_view *view, const ct_point *p, bool si)
{
    json_t *object = json_object();
    bool good = object != NULL;
    for (int i = 0; good && i < sweep_columns_count(); i++) {
        char key[COLUMN_KEY_SIZE];
        sweep_column_key(i, si, key);
        good = json_object_set_new(object, key, value_json(&columns[i], view, p, si)) == 0;
    }
    if (good) return object;
    json_decref(object);
    return NULL;
}

void sweep_columns_print(FILE *out)
{
    fputs("Columns of sweep.csv and taps.csv. A value that a point does not have is an empty\n"
          "field. With --si the name ends in the SI unit.\n\n",
          out);
    for (int i = 0; i < sweep_columns_count(); i++) {
        char inch_pound[COLUMN_KEY_SIZE], si[COLUMN_KEY_SIZE];
        sweep_column_key(i, false, inch_pound);
        sweep_column_key(i, true, si);
        fprintf(out, "%s%s%s\n    %s\n", inch_pound, strcmp(inch_pound, si) ? ", " : "",
                strcmp(inch_pound, si) ? si : "", columns[i].meaning);
    }
}
