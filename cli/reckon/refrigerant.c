#include <stddef.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "fluid/air.h"
#include "fluid/refrigerant.h"
#include "show/answer.h"
#include "verbs.h"

enum {
    TEMPERATURE,
    PRESSURE,
    SUCTION_PRESSURE,
    SUCTION_TEMPERATURE,
    LIQUID_PRESSURE,
    LIQUID_TEMPERATURE,
    ALTITUDE,
    SI,
    JSON,
    OUTPUT,
    N_OPTIONS
};

#define GAUGE_ROW(NAME, HELP)                                                                      \
    .name = (NAME), .kind = OPTION_VALUE, .unit = CT_UNIT_PRESSURE_GAUGE, .shows = "PRESSURE",     \
    .help = (HELP)
#define TEMPERATURE_ROW(NAME, HELP)                                                                \
    .name = (NAME), .kind = OPTION_VALUE, .unit = CT_UNIT_TEMPERATURE, .shows = "TEMP",            \
    .help = (HELP)

static const option_row options[N_OPTIONS] = {
    [TEMPERATURE] = {TEMPERATURE_ROW("temperature", "saturation: pressures at this temperature")},
    [PRESSURE] = {GAUGE_ROW("pressure", "saturation: temperatures at this gauge pressure")},
    [SUCTION_PRESSURE] = {GAUGE_ROW("suction-pressure", "superheat: suction gauge reading")},
    [SUCTION_TEMPERATURE] = {TEMPERATURE_ROW("suction-temperature",
                                             "superheat: suction line at the same place")},
    [LIQUID_PRESSURE] = {GAUGE_ROW("liquid-pressure", "subcooling: liquid gauge reading")},
    [LIQUID_TEMPERATURE] = {TEMPERATURE_ROW("liquid-temperature",
                                            "subcooling: liquid line at the same place")},
    [ALTITUDE] = {ALTITUDE_ROW(
        "height above sea level, sets the pressure where the gauge reads zero")},
    [SI] = {SI_ROW("metric table; SI units in JSON")},
    [JSON] = {JSON_ROW("JSON instead of a table")},
    [OUTPUT] = {OUTPUT_FILE_ROW},
};

enum { MAX_FACTS = 6, MAX_GROUPS = 5 };

/* What is gathered for the answer. */
typedef struct {
    const ct_refrigerant *refrigerant;
    const option_value *o;
    double p_air; /* Pa, barometric: zero of the gauge */
    fact facts[MAX_GROUPS][MAX_FACTS];
    fact_group groups[MAX_GROUPS];
    int n_groups;
} sheet;

static fact_group *add_group(sheet *s, const char *name, const char *heading)
{
    fact_group *group = &s->groups[s->n_groups];
    *group = (fact_group){.name = name, .heading = heading, .facts = s->facts[s->n_groups]};
    s->n_groups++;
    return group;
}

static void add_fact(sheet *s, const char *name, const char *label, quantity q, double v)
{
    fact_group *group = &s->groups[s->n_groups - 1];
    s->facts[s->n_groups - 1][group->n++] = (fact){name, label, q, v};
}

/* One pressure, as the gauge reads it and absolute. */
static void add_pressure(sheet *s, const char *name, const char *gauge, const char *absolute,
                         double p)
{
    add_fact(s, name, gauge, Q_PRESSURE_GAUGE, p - s->p_air);
    add_fact(s, name, absolute, Q_PRESSURE, p);
}

static void add_general(sheet *s)
{
    const ct_refrigerant *r = s->refrigerant;
    add_group(s, NULL, "General");
    add_fact(s, "altitude", "Altitude", Q_LENGTH, s->o[ALTITUDE].si);
    add_fact(s, "barometric_pressure", "Barometric pressure", Q_PRESSURE, s->p_air);
    add_fact(s, "critical_temperature", "Critical temperature", Q_TEMPERATURE,
             ct_refrigerant_T_crit(r));
    add_fact(s, "lowest_saturation", "Lowest saturation covered", Q_TEMPERATURE,
             ct_refrigerant_T_min(r));
    add_fact(s, "highest_saturation", "Highest saturation covered", Q_TEMPERATURE,
             ct_refrigerant_T_max(r));
}

static ct_status add_at_temperature(sheet *s, ct_fault *fault)
{
    const double T = s->o[TEMPERATURE].si;
    double p_dew;
    ct_status status = ct_refrigerant_p_dew(s->refrigerant, T, &p_dew, fault);
    double p_bubble;
    if (status == CT_OK) status = ct_refrigerant_p_bubble(s->refrigerant, T, &p_bubble, fault);
    if (status != CT_OK) return status;
    add_group(s, "saturation_at_temperature", "Saturation at a temperature");
    add_fact(s, "temperature", "Temperature", Q_TEMPERATURE, T);
    add_pressure(s, "dew_pressure", "Dew pressure (vapor), gauge", "  absolute", p_dew);
    add_pressure(s, "bubble_pressure", "Bubble pressure (liquid), gauge", "  absolute", p_bubble);
    return CT_OK;
}

static ct_status add_at_pressure(sheet *s, ct_fault *fault)
{
    const double p = s->o[PRESSURE].si + s->p_air;
    double T_dew;
    ct_status status = ct_refrigerant_T_dew(s->refrigerant, p, &T_dew, fault);
    double T_bubble;
    if (status == CT_OK) status = ct_refrigerant_T_bubble(s->refrigerant, p, &T_bubble, fault);
    if (status != CT_OK) return status;
    add_group(s, "saturation_at_pressure", "Saturation at a pressure");
    add_pressure(s, "pressure", "Pressure, gauge", "  absolute", p);
    add_fact(s, "dew_temperature", "Dew temperature (vapor)", Q_TEMPERATURE, T_dew);
    add_fact(s, "bubble_temperature", "Bubble temperature (liquid)", Q_TEMPERATURE, T_bubble);
    return CT_OK;
}

static ct_status add_superheat(sheet *s, ct_fault *fault)
{
    const double p = s->o[SUCTION_PRESSURE].si + s->p_air, T = s->o[SUCTION_TEMPERATURE].si;
    double T_dew;
    const ct_status status = ct_refrigerant_T_dew(s->refrigerant, p, &T_dew, fault);
    if (status != CT_OK) return status;
    fact_group *group = add_group(s, "superheat", "Superheat");
    add_pressure(s, "suction_pressure", "Suction pressure, gauge", "  absolute", p);
    add_fact(s, "suction_temperature", "Suction temperature", Q_TEMPERATURE, T);
    add_fact(s, "dew_temperature", "Dew temperature at that pressure", Q_TEMPERATURE, T_dew);
    add_fact(s, "superheat", "Superheat", Q_DELTA_T, T - T_dew);
    group->basis = "superheat is counted from the dew temperature";
    if (T <= T_dew)
        group->warning =
            "the line is no warmer than the dew temperature: liquid is coming back, or "
            "a reading or the refrigerant is wrong";
    return CT_OK;
}

static ct_status add_subcooling(sheet *s, ct_fault *fault)
{
    const double p = s->o[LIQUID_PRESSURE].si + s->p_air, T = s->o[LIQUID_TEMPERATURE].si;
    double T_bubble;
    const ct_status status = ct_refrigerant_T_bubble(s->refrigerant, p, &T_bubble, fault);
    if (status != CT_OK) return status;
    fact_group *group = add_group(s, "subcooling", "Subcooling");
    add_pressure(s, "liquid_pressure", "Liquid pressure, gauge", "  absolute", p);
    add_fact(s, "liquid_temperature", "Liquid temperature", Q_TEMPERATURE, T);
    add_fact(s, "bubble_temperature", "Bubble temperature at that pressure", Q_TEMPERATURE,
             T_bubble);
    add_fact(s, "subcooling", "Subcooling", Q_DELTA_T, T_bubble - T);
    group->basis = "subcooling is counted from the bubble temperature";
    if (T >= T_bubble)
        group->warning = "the line is no colder than the bubble temperature: there is vapor in it, "
                         "or a reading or the refrigerant is wrong";
    return CT_OK;
}

static ct_status gather(sheet *s, ct_fault *fault)
{
    static const struct {
        int option;
        ct_status (*add)(sheet *, ct_fault *);
    } parts[] = {{TEMPERATURE, add_at_temperature},
                 {PRESSURE, add_at_pressure},
                 {SUCTION_PRESSURE, add_superheat},
                 {LIQUID_PRESSURE, add_subcooling}};
    add_general(s);
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (!s->o[parts[i].option].given) continue;
        const ct_status status = parts[i].add(s, fault);
        if (status != CT_OK) return status;
    }
    return CT_OK;
}

static exit_code answer_for(const ct_refrigerant *r, double p_air, const option_value *o)
{
    sheet s = {.refrigerant = r, .o = o, .p_air = p_air};
    ct_fault fault;
    if (gather(&s, &fault) != CT_OK) return complain_fault(&fault);
    const text_fact texts[] = {
        {"refrigerant", ct_refrigerant_name(r)},
        {"safety", ct_refrigerant_safety(r)},
        {"saturation", ct_refrigerant_is_blend(r) ? "a blend: dew and bubble pressure differ"
                                                  : "dew and bubble pressure are equal"},
    };
    const answer a = {.title = "Refrigerant",
                      .texts = texts,
                      .n_texts = (int)(sizeof texts / sizeof texts[0]),
                      .groups = s.groups,
                      .n_groups = s.n_groups};
    return answer_write(&a, o[JSON].given, o[SI].given, o[OUTPUT].text);
}

/* A pressure without its temperature says nothing about superheat or subcooling. */
static bool is_paired(const option_value *o, int pressure, int temperature)
{
    if (o[pressure].given == o[temperature].given) return true;
    const int there = o[pressure].given ? pressure : temperature;
    const int missing = o[pressure].given ? temperature : pressure;
    complain("refrigerant: --%s needs --%s beside it", options[there].name, options[missing].name);
    return false;
}

static exit_code run(const arguments *args)
{
    const option_value *o = args->option;
    if (!is_paired(o, SUCTION_PRESSURE, SUCTION_TEMPERATURE) ||
        !is_paired(o, LIQUID_PRESSURE, LIQUID_TEMPERATURE))
        return EXIT_USAGE;
    ct_fault fault;
    ct_refrigerant *refrigerant = NULL;
    double p_air;
    if (ct_air_pressure(o[ALTITUDE].si, &p_air, &fault) != CT_OK ||
        ct_refrigerant_make(args->operand[0], &refrigerant, &fault) != CT_OK)
        return complain_fault(&fault);
    const exit_code code = answer_for(refrigerant, p_air, o);
    ct_refrigerant_free(refrigerant);
    return code;
}

const verb verb_refrigerant = {
    .name = "refrigerant",
    .purpose = "Saturation, superheat and subcooling from gauge readings.",
    .operands = "REFRIGERANT",
    .min_operands = 1,
    .max_operands = 1,
    .too_many = "a reading goes behind its option, such as --pressure 68psig; put a value with a "
                "blank in quotes",
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Give one or more of these: --temperature; --pressure; --suction-pressure and\n"
               "--suction-temperature, for superheat; --liquid-pressure and\n"
               "--liquid-temperature, for subcooling. Superheat counts from dew, subcooling\n"
               "from bubble. Gauges are taken to read zero in open air at the\n"
               "altitude given.\n",
    .example =
        "  coiltrim refrigerant R-410A --suction-pressure \"118 psig\" --suction-temperature "
        "\"52 F\"\n",
    .run = run,
};
