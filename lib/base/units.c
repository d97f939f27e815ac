#include "base/units.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "base/natural.h"
#include "base/number.h"

/* Exact definitions, after NIST SP 811 (2008) appendix B and its chapter on defined units:
 * ft = 0.3048 m, in = 25.4 mm, lb = 0.45359237 kg, g_n = 9.80665 m/s2, Btu(IT) = 1055.05585262 J,
 * ton of refrigeration = 12000 Btu(IT)/h, horsepower = 550 ft lbf/s, F = 1.8 K - 459.67.
 * lbf = 0.45359237 x 9.80665 N, psi = lbf/in2. Conventional inch of water = in x 1000 kg/m3 x g_n
 * (the '4 C' inch of the same tables is 0.003 % smaller). */
#define GRAVITY 9.80665
#define FT2 (CT_M_PER_FT * CT_M_PER_FT)
#define HORSEPOWER (550.0 * CT_M_PER_FT * CT_KG_PER_LBM * GRAVITY)
#define R_VALUE (3600.0 * FT2 / CT_F_PER_K / CT_J_PER_BTU)
#define BTUH_FT_F (CT_W_PER_BTUH / CT_M_PER_FT * CT_F_PER_K)
/* US liquid gallon = 231 in3. Water at 15 C, where condensate is about: 999.1 kg/m3 (tables of
 * water's density, from memory, unconfirmed). */
#define WATER_DENSITY 999.1
#define GALLON (CT_M3_PER_GALLON * WATER_DENSITY)
#define TON_PER_KW (CT_W_PER_TON / 1000.0)

/* One spelling. SI = (x + shift) num / den, or num / x for a density that we keep as a pitch. */
typedef struct {
    ct_unit_kind kind;
    const char *spelling; /* as normalize() leaves it: lower case, no blanks or marks */
    const char *name;     /* as we write it */
    double num, den, shift;
    bool inverse;
} unit_row;

#define U(kind, spelling, name, num)                                                               \
    {                                                                                              \
        CT_UNIT_##kind, spelling, name, num, 1.0, 0.0, false                                       \
    }
#define D(kind, spelling, name, num, den)                                                          \
    {                                                                                              \
        CT_UNIT_##kind, spelling, name, num, den, 0.0, false                                       \
    }

static const unit_row units[] = {
    U(NONE, "", "", 1.0),
    U(NONE, "%", "%", 0.01),
    {CT_UNIT_TEMPERATURE, "f", "F", 1.0, CT_F_PER_K, CT_ZERO_F, false},
    {CT_UNIT_TEMPERATURE, "c", "C", 1.0, 1.0, CT_ZERO_C, false},
    U(TEMPERATURE, "k", "K", 1.0),
    D(DELTA_T, "f", "F", 1.0, CT_F_PER_K),
    U(DELTA_T, "c", "C", 1.0),
    U(DELTA_T, "k", "K", 1.0),
    U(POWER, "w", "W", 1.0),
    U(POWER, "watt", "W", 1.0),
    U(POWER, "watts", "W", 1.0),
    U(POWER, "kw", "kW", 1000.0),
    U(POWER, "btu/h", "Btu/h", CT_W_PER_BTUH),
    U(POWER, "btu/hr", "Btu/h", CT_W_PER_BTUH),
    U(POWER, "btuh", "Btu/h", CT_W_PER_BTUH),
    U(POWER, "btu", "Btu/h", CT_W_PER_BTUH), /* what the trade says for it */
    U(POWER, "btus", "Btu/h", CT_W_PER_BTUH),
    U(POWER, "kbtu", "kBtu/h", 1000.0 * CT_W_PER_BTUH),
    U(POWER, "kbtu/h", "kBtu/h", 1000.0 * CT_W_PER_BTUH),
    U(POWER, "mbh", "kBtu/h", 1000.0 * CT_W_PER_BTUH), /* M is the Roman thousand here */
    U(POWER, "ton", "ton", CT_W_PER_TON),
    U(POWER, "tons", "ton", CT_W_PER_TON),
    U(POWER, "hp", "hp", HORSEPOWER),
    U(TONS, "ton", "ton", 1.0),
    U(TONS, "tons", "ton", 1.0),
    D(TONS, "kw", "kW", 1.0, TON_PER_KW),
    D(TONS, "btu/h", "Btu/h", 1.0, 12000.0),
    D(TONS, "btu/hr", "Btu/h", 1.0, 12000.0),
    D(TONS, "btuh", "Btu/h", 1.0, 12000.0),
    D(TONS, "btu", "Btu/h", 1.0, 12000.0),
    D(TONS, "btus", "Btu/h", 1.0, 12000.0),
    U(EER, "btu/wh", "Btu/Wh", CT_W_PER_BTUH),
    U(EER, "btu/w-h", "Btu/Wh", CT_W_PER_BTUH),
    U(EER, "eer", "Btu/Wh", CT_W_PER_BTUH),
    U(EER, "seer", "Btu/Wh", CT_W_PER_BTUH),
    U(EER, "w/w", "W/W", 1.0),
    U(AIRFLOW, "cfm", "cfm", CT_M3S_PER_CFM),
    U(AIRFLOW, "m3/s", "m3/s", 1.0),
    D(AIRFLOW, "m3/h", "m3/h", 1.0, 3600.0),
    D(AIRFLOW, "l/s", "L/s", 1.0, 1000.0),
    U(AIRFLOW_PER_TON, "cfm/ton", "cfm/ton", CT_M3S_PER_CFM),
    U(AIRFLOW_PER_TON, "cfmperton", "cfm/ton", CT_M3S_PER_CFM),
    D(AIRFLOW_PER_TON, "l/s/ton", "L/s/ton", 1.0, 1000.0),
    D(AIRFLOW_PER_TON, "l/sperton", "L/s/ton", 1.0, 1000.0), /* as it is shown */
    D(AIRFLOW_PER_TON, "m3/h/kw", "m3/h/kW", TON_PER_KW, 3600.0),
    D(AIRFLOW_PER_TON, "l/s/kw", "L/s/kW", TON_PER_KW, 1000.0),
    U(AIRFLOW_PER_TON, "m3/s/kw", "m3/s/kW", TON_PER_KW),
    U(PRESSURE, "pa", "Pa", 1.0),
    U(PRESSURE, "kpa", "kPa", 1e3),
    U(PRESSURE, "bar", "bar", 1e5),
    U(PRESSURE, "inwc", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "inwg", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "iwc", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "\"wc", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "inh2o", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "\"", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "\"wg", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "inchwc", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "incheswc", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "inchesofwater", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "in", "inwc", CT_PA_PER_INWC), /* on a manometer no other inches are read */
    U(PRESSURE, "inch", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "inches", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "wc", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "wg", "inwc", CT_PA_PER_INWC),
    U(PRESSURE, "psi", "psi", CT_PA_PER_PSI),
    U(PRESSURE, "psia", "psia", CT_PA_PER_PSI),
    U(PRESSURE_GAUGE, "psig", "psig", CT_PA_PER_PSI),
    U(PRESSURE_GAUGE, "psi", "psig", CT_PA_PER_PSI), /* where only a gauge reading makes sense */
    U(PRESSURE_GAUGE, "barg", "barg", 1e5),
    U(PRESSURE_GAUGE, "bar", "barg", 1e5),
    U(PRESSURE_GAUGE, "kpag", "kPag", 1e3),
    U(PRESSURE_GAUGE, "kpa", "kPag", 1e3),
    U(LENGTH, "in", "in", CT_M_PER_IN),
    U(LENGTH, "\"", "in", CT_M_PER_IN),
    U(LENGTH, "inch", "in", CT_M_PER_IN),
    U(LENGTH, "inches", "in", CT_M_PER_IN),
    U(LENGTH, "ft", "ft", CT_M_PER_FT),
    U(LENGTH, "'", "ft", CT_M_PER_FT),
    U(LENGTH, "foot", "ft", CT_M_PER_FT),
    U(LENGTH, "feet", "ft", CT_M_PER_FT),
    D(LENGTH, "mm", "mm", 1.0, 1000.0),
    D(LENGTH, "cm", "cm", 1.0, 100.0),
    U(LENGTH, "m", "m", 1.0),
    U(AREA, "ft2", "ft2", FT2),
    U(AREA, "sqft", "ft2", FT2),
    U(AREA, "sqin", "in2", CT_M_PER_IN *CT_M_PER_IN),
    U(AREA, "in2", "in2", CT_M_PER_IN *CT_M_PER_IN),
    U(AREA, "m2", "m2", 1.0),
    D(VELOCITY, "fpm", "fpm", CT_M_PER_FT, 60.0),
    D(VELOCITY, "ft/min", "ft/min", CT_M_PER_FT, 60.0),
    U(VELOCITY, "m/s", "m/s", 1.0),
    U(FRACTION, "%", "%", 0.01),
    U(FRACTION, "%rh", "%", 0.01),
    U(FRACTION, "percent", "%", 0.01),
    U(FRACTION, "", "", 1.0),
    U(TIME, "s", "s", 1.0),
    U(TIME, "sec", "s", 1.0),
    U(TIME, "seconds", "s", 1.0),
    U(TIME, "min", "min", 60.0),
    U(TIME, "minutes", "min", 60.0),
    U(TIME, "hours", "h", 3600.0),
    U(TIME, "h", "h", 3600.0),
    U(R_VALUE, "r", "R", R_VALUE),
    U(R_VALUE, "hft2f/btu", "h.ft2.F/Btu", R_VALUE),
    U(R_VALUE, "m2k/w", "m2K/W", 1.0),
    U(CONDUCTIVITY, "w/mk", "W/mK", 1.0),
    U(CONDUCTIVITY, "btu/hftf", "Btu/h.ft.F", BTUH_FT_F),
    {CT_UNIT_FIN_DENSITY, "fins/in", "fins/in", CT_M_PER_IN, 1.0, 0.0, true},
    {CT_UNIT_FIN_DENSITY, "fpi", "fins/in", CT_M_PER_IN, 1.0, 0.0, true},
    {CT_UNIT_FIN_DENSITY, "fins/m", "fins/m", 1.0, 1.0, 0.0, true},
    D(FIN_DENSITY, "mm", "mm", 1.0, 1000.0),
    U(CURRENT, "a", "A", 1.0),
    U(CURRENT, "amp", "A", 1.0),
    U(CURRENT, "amps", "A", 1.0),
    U(VOLTAGE, "v", "V", 1.0),
    U(VOLTAGE, "volt", "V", 1.0),
    U(VOLTAGE, "volts", "V", 1.0),
    U(WATER, "lb", "lb", CT_KG_PER_LBM),
    U(WATER, "lbs", "lb", CT_KG_PER_LBM),
    U(WATER, "kg", "kg", 1.0),
    D(WATER, "g", "g", 1.0, 1000.0),
    U(WATER, "gal", "gal", GALLON),
    U(WATER, "gallon", "gal", GALLON),
    U(WATER, "gallons", "gal", GALLON),
    D(WATER, "qt", "qt", GALLON, 4.0),
    D(WATER, "quart", "qt", GALLON, 4.0),
    D(WATER, "quarts", "qt", GALLON, 4.0),
    D(WATER, "pt", "pint", GALLON, 8.0),
    D(WATER, "pint", "pint", GALLON, 8.0),
    D(WATER, "pints", "pint", GALLON, 8.0),
    D(WATER, "l", "L", WATER_DENSITY, 1000.0),
    D(WATER, "ml", "mL", WATER_DENSITY, 1e6),
    U(VOLUME, "in3", "in3", CT_M_PER_IN *CT_M_PER_IN *CT_M_PER_IN),
    U(VOLUME, "cuin", "in3", CT_M_PER_IN *CT_M_PER_IN *CT_M_PER_IN),
    U(VOLUME, "ft3", "ft3", CT_M3_PER_FT3),
    D(VOLUME, "l", "L", 1.0, 1000.0),
    D(VOLUME, "cm3", "cm3", 1.0, 1e6),
    U(VOLUME, "m3", "m3", 1.0),
};

typedef struct {
    const char *name;
    const char *allowed;
} kind_row;

static const kind_row kinds[] = {
    [CT_UNIT_NONE] = {"number", "a bare number, or %"},
    [CT_UNIT_TEMPERATURE] = {"temperature", "F, C, K"},
    [CT_UNIT_DELTA_T] = {"temperature difference", "F, C, K"},
    [CT_UNIT_POWER] = {"power", "W, kW, Btu/h, kBtu/h, ton, hp"},
    [CT_UNIT_TONS] = {"nominal size", "ton, kW, Btu/h"},
    [CT_UNIT_EER] = {"efficiency", "Btu/Wh, W/W"},
    [CT_UNIT_AIRFLOW] = {"airflow", "cfm, m3/s, m3/h, L/s"},
    [CT_UNIT_AIRFLOW_PER_TON] = {"airflow per ton", "cfm/ton, L/s/ton, m3/h/kW, L/s/kW, m3/s/kW"},
    [CT_UNIT_PRESSURE] = {"pressure", "Pa, kPa, bar, inwc, psi, psia"},
    [CT_UNIT_PRESSURE_GAUGE] = {"gauge pressure", "psig, barg, kPag"},
    [CT_UNIT_LENGTH] = {"length", "in, ft, mm, cm, m"},
    [CT_UNIT_AREA] = {"area", "ft2, in2, m2"},
    [CT_UNIT_VELOCITY] = {"velocity", "fpm, ft/min, m/s"},
    [CT_UNIT_FRACTION] = {"fraction", "%, or a bare fraction such as 0.5"},
    [CT_UNIT_TIME] = {"time", "s, min, h"},
    [CT_UNIT_R_VALUE] = {"insulation", "R (as R-6 or 6 R), h.ft2.F/Btu, m2K/W"},
    [CT_UNIT_CONDUCTIVITY] = {"conductivity", "W/mK, Btu/h.ft.F"},
    [CT_UNIT_FIN_DENSITY] = {"fin spacing", "fins/in, fins/m, or the pitch in mm"},
    [CT_UNIT_CURRENT] = {"current", "A"},
    [CT_UNIT_VOLTAGE] = {"voltage", "V"},
    [CT_UNIT_WATER] = {"water", "lb, kg, g, pint, qt, gal, L, mL"},
    [CT_UNIT_VOLUME] = {"volume", "in3, ft3, L, cm3, m3"},
};

#define UNIT_SIZE 24

double ct_K_from_F(double F)
{
    return (F + CT_ZERO_F) / CT_F_PER_K;
}

double ct_F_from_K(double K)
{
    return K * CT_F_PER_K - CT_ZERO_F;
}

const char *ct_units_allowed(ct_unit_kind kind)
{
    return kinds[kind].allowed;
}

static const char *skip_blanks(const char *s)
{
    while (*s == ' ' || *s == '\t')
        s++;
    return s;
}

/* Marks people write around unit names and that mean nothing: blanks, dots, degree sign, brackets.
 */
static size_t mark_length(const unsigned char *s, bool first)
{
    if (*s == ' ' || *s == '\t' || *s == '*' || *s == '^' || *s == '(' || *s == ')') return 1;
    if (*s == '.' && !first) return 1;
    if (s[0] == 0xC2 && (s[1] == 0xB0 || s[1] == 0xB7)) return 2; /* degree sign, middle dot */
    return 0;
}

/* Unit as written to spelling; false when it is longer than any unit. */
static bool normalize(const char *text, char spelling[UNIT_SIZE])
{
    size_t n = 0;
    const unsigned char *s = (const unsigned char *)text;
    while (*s) {
        const size_t skip = mark_length(s, n == 0);
        if (skip) {
            s += skip;
            continue;
        }
        if (n + 1 == UNIT_SIZE) return false;
        char c = (char)*s++;
        if (c >= 'A' && c <= 'Z') c = (char)(c - 'A' + 'a');
        if ((unsigned char)c == 0xC2 && (*s == 0xB2 || *s == 0xB3)) c = *s++ == 0xB2 ? '2' : '3';
        spelling[n++] = c;
    }
    spelling[n] = '\0';
    return true;
}

/* "deg F", "degrees Fahrenheit": "f". */
static const char *without_degrees(ct_unit_kind kind, const char *spelling)
{
    static const char *const degrees[] = {"degrees", "degree", "deg"};
    if (kind != CT_UNIT_TEMPERATURE && kind != CT_UNIT_DELTA_T) return spelling;
    for (size_t i = 0; i < sizeof degrees / sizeof degrees[0]; i++) {
        const size_t n = strlen(degrees[i]);
        if (strncmp(spelling, degrees[i], n) != 0) continue;
        spelling += n;
        break;
    }
    return strcmp(spelling, "fahrenheit") == 0 ? "f"
           : strcmp(spelling, "celsius") == 0  ? "c"
                                               : spelling;
}

static const unit_row *find_unit(ct_unit_kind kind, const char *text)
{
    char all[UNIT_SIZE];
    if (!normalize(text, all)) return NULL;
    const char *spelling = without_degrees(kind, all);
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        if (units[i].kind == kind && strcmp(units[i].spelling, spelling) == 0) return &units[i];
    return NULL;
}

static ct_status no_number(const char *text, ct_unit_kind kind, ct_fault *fault)
{
    return ct_fault_say(
        fault, CT_INPUT,
        "'%.40s' is not a number; write the %s as digits with '.', then its unit (%s)", text,
        kinds[kind].name, kinds[kind].allowed);
}

static ct_status no_unit(const char *text, const char *unit, ct_unit_kind kind, ct_fault *fault)
{
    const char *name = kinds[kind].name;
    const char *allowed = kinds[kind].allowed;
    if (*unit == ',')
        return ct_fault_say(
            fault, CT_INPUT,
            "'%.40s' has a comma; write '.' for decimals and nothing between thousands", text);
    if (*unit == '\0')
        return ct_fault_say(fault, CT_INPUT,
                            "'%.40s' has no unit; a%s %s is written with one of: %s", text,
                            strchr("aei", name[0]) ? "n" : "", name, allowed);
    if (kind == CT_UNIT_NONE)
        return ct_fault_say(fault, CT_INPUT, "'%.30s' is where no unit belongs; allowed: %s", unit,
                            allowed);
    if (kind == CT_UNIT_AIRFLOW_PER_TON && find_unit(CT_UNIT_AIRFLOW, unit))
        return ct_fault_say(fault, CT_INPUT,
                            "'%.30s' is not an airflow per ton: divide it by the nominal tons and "
                            "write %s",
                            text, strcmp(unit, "cfm") == 0 ? "cfm/ton" : "L/s/ton");
    return ct_fault_say(fault, CT_INPUT, "'%.30s' is not a unit of %s; allowed: %s", unit, name,
                        allowed);
}

/* "R-6": the dash belongs to the name, it is no minus. */
static bool read_r_form(const char *text, double *v, const char **unit)
{
    if (*text != 'R' && *text != 'r') return false;
    const char *s = skip_blanks(text + 1);
    if (*s == '-') s++;
    const char *end;
    if (!isdigit((unsigned char)*s) || !ct_number_read(s, v, &end)) return false;
    if (*skip_blanks(end)) return false;
    *unit = "R";
    return true;
}

static ct_status to_si(const char *text, double x, const unit_row *u, double *si, ct_fault *fault)
{
    const double v = u->inverse ? u->num / x : (x + u->shift) * u->num / u->den;
    if (!isfinite(v))
        return ct_fault_say(fault, CT_INPUT, "'%.40s' is no possible %s; check the number", text,
                            kinds[u->kind].name);
    *si = v;
    return CT_OK;
}

/* Numbers that need no unit beside them, because in every other unit of the kind they would be no
 * possible value: an efficiency label of 8 and more is no W/W, 250 and more is no airflow per kW.
 * A nominal size is in tons by its name; above 6 it may be kW. */
static const struct {
    ct_unit_kind kind;
    const char *unit;
    double low, high;
} implied[] = {
    {CT_UNIT_EER, "btu/wh", 8.0, 30.0},
    {CT_UNIT_TONS, "ton", 0.5, 6.0},
    {CT_UNIT_AIRFLOW_PER_TON, "cfm/ton", 250.0, 700.0},
};

/* Without a unit. NULL: the unit must be asked for. "450 cfm" is no airflow per ton: on a small
 * unit it is as likely the whole of it. */
static const unit_row *implied_unit(ct_unit_kind kind, const char *rest, double x)
{
    for (size_t i = 0; i < sizeof implied / sizeof implied[0]; i++)
        if (implied[i].kind == kind && *rest == '\0' && x >= implied[i].low && x <= implied[i].high)
            return find_unit(kind, implied[i].unit);
    return NULL;
}

/* Units of countries that write a decimal comma. */
static bool is_metric(const unit_row *u)
{
    static const char *const names[] = {"kW",  "W/W",  "m3/s", "m3/h",  "L/s", "Pa",  "kPa",
                                        "bar", "mm",   "cm",   "m",     "m2",  "m/s", "C",
                                        "K",   "barg", "kPag", "m2K/W", "W/mK"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(u->name, names[i]) == 0) return true;
    return false;
}

static ct_status read_natural(const char *text, ct_unit_kind kind, double *si, const char **unit,
                              ct_fault *fault)
{
    ct_natural n;
    const char *start = text + (kind == CT_UNIT_NONE && *text == '$');
    if (!ct_natural_read(start, kind == CT_UNIT_LENGTH, &n)) return no_number(text, kind, fault);
    const unit_row *u = find_unit(kind, n.rest);
    if (!u) u = implied_unit(kind, n.rest, n.v);
    if (!u) return no_unit(text, n.rest, kind, fault);
    if (n.one_comma && is_metric(u))
        return ct_fault_say(fault, CT_INPUT,
                            "'%.40s' can mean thousands or a decimal comma; write it without the "
                            "comma, with '.' for decimals",
                            text);
    const ct_status status = to_si(text, n.v, u, si, fault);
    if (status == CT_OK && unit) *unit = u->name;
    return status;
}

ct_status ct_units_read_as(const char *text, ct_unit_kind kind, double *si, const char **unit,
                           ct_fault *fault)
{
    if (!text) return ct_fault_say(fault, CT_INPUT, "no text given");
    const char *start = skip_blanks(text);
    const char *rest;
    double x;
    if (kind != CT_UNIT_R_VALUE || !read_r_form(start, &x, &rest))
        return read_natural(start, kind, si, unit, fault);
    const ct_status status = to_si(text, x, find_unit(kind, rest), si, fault);
    if (status == CT_OK && unit) *unit = "R";
    return status;
}

ct_status ct_units_read(const char *text, ct_unit_kind kind, double *si, ct_fault *fault)
{
    return ct_units_read_as(text, kind, si, NULL, fault);
}

bool ct_units_to(double si, ct_unit_kind kind, const char *unit, double *value)
{
    const unit_row *u = find_unit(kind, unit);
    if (!u) return false;
    *value = u->inverse ? u->num / si : si * u->den / u->num - u->shift;
    return true;
}

const char *ct_units_gap(const char *unit)
{
    return unit[0] == '\0' || unit[0] == '%' ? "" : " ";
}
