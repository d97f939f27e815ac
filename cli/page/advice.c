#include "base/html.h"
#include "judge/remedy.h"
#include "page/page.h"
#include "plant/plant.h"

static void name_device(FILE *out, const page *p, const ct_fix *f)
{
    if (f->unit == CT_UNIT_LENGTH)
        html_say(out, "another piston, which meters the refrigerant, in the new unit");
    else if (p->at.system.meter.kind == CT_METER_ORIFICE)
        html_say(out, "a refrigerant valve in place of the piston in the new unit");
    else
        html_say(out, "another refrigerant valve in the new unit");
}

static void name_fan(FILE *out, const page *p)
{
    html_say(out, p->j->c->house.fan_on ? "the fan switch at AUTO, not at ON"
                                        : "a blower that stops with the outdoor unit");
}

#define HEATING_SPEED "another blower speed for heating"

static void name_besides(FILE *out, const page *p, const ct_fix *f)
{
    if (f->also & CT_REMEDY_FAN) name_fan(out, p);
    if (f->also & CT_REMEDY_HEAT_TAP)
        html_say(out, "%s" HEATING_SPEED, f->also & CT_REMEDY_FAN ? ", " : "");
    if (f->also) html_say(out, " together with ");
}

/* A remedy as a customer knows it; nothing where it says nothing to one. */
static void name_fix(FILE *out, const page *p, const ct_fix *f)
{
    const double pints = f->amount / CT_KG_S_PER_PINT_DAY, liters = 86400 * f->amount;
    name_besides(out, p, f);
    switch ((ct_remedy)f->remedy) {
    case CT_REMEDY_SMALLER_COIL: html_say(out, "a smaller indoor coil"); break;
    case CT_REMEDY_LARGER_COIL: html_say(out, "a larger indoor coil"); break;
    case CT_REMEDY_DEHUMIDIFIER:
        html_say(out, "a dehumidifier that takes %.0f %s a day", p->metric ? liters : pints,
                 p->metric ? "liters" : "pints");
        break;
    case CT_REMEDY_DUCTS: html_say(out, "larger or straighter ducts"); break;
    case CT_REMEDY_LARGER_OUTDOOR:
        html_say(out, "an outdoor unit of %.2g tons", f->amount / CT_W_PER_TON);
        break;
    case CT_REMEDY_FAN: name_fan(out, p); break;
    case CT_REMEDY_HEAT_TAP: html_say(out, HEATING_SPEED); break;
    case CT_REMEDY_INSULATION: html_say(out, "more insulation on the ducts"); break;
    case CT_REMEDY_METERING: name_device(out, p, f); break;
    case CT_REMEDY_LESS_LOAD:
        html_say(out, "%.0f%% less heat into the house: shade, seal, insulate",
                 100 * f->amount / p->j->c->house.Q_sensible);
        break;
    default: html_say(out, "%s", ct_remedy_words(f->remedy)); break;
    }
}

/* The best few: a sheet of all that might help would help nobody. */
static void list_fixes(FILE *out, const page *p, bool closing)
{
    enum { SHOWN = 3 };
    int n = 0;
    for (int i = 0; i < p->outlook.fixes.n && n < SHOWN; i++) {
        if (p->outlook.fixes.fix[i].closes != closing) continue;
        html_say(out, "%s", n++ > 0 ? "; or " : "");
        name_fix(out, p, &p->outlook.fixes.fix[i]);
    }
}

#define BIT(limit) (1u << CT_LIMIT_##limit)

static unsigned fails(const ct_point *q)
{
    unsigned limits = 0;
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (q->limit[i].verdict == CT_FAILS) limits |= 1u << i;
    return limits;
}

/* Some speed fails these alone: it would cool the house, and be safe while it cools. */
static bool only(const page *p, unsigned limits)
{
    for (int i = 0; i < p->pick->n_points; i++)
        if (!(fails(ct_pick_candidate(p->pick, p->sweep, i)) & ~limits)) return true;
    return false;
}

static const char *why_none(const page *p)
{
    if (only(p, BIT(HUMIDITY))) return "No blower speed keeps the house as dry as it should be.";
    if (only(p, BIT(HEAT) | BIT(FURNACE) | BIT(HEAT_HEAD)))
        return "It would cool the house, but the blower speed for heating is outside what the "
               "equipment allows.";
    return "No blower speed cools the house and is safe for the equipment as well.";
}

void page_write_advice(FILE *out, const page *p)
{
    html_element(out, "p", "pick", "We advise against this job as planned. %s", why_none(p));
    if (!p->outlook.has_fixes || p->outlook.fixes.n == 0) return;
    const bool closing = !p->outlook.fixes.none_closes;
    fputs("<p>", out);
    html_say(out, closing ? "What would make it work: "
                          : "No single change is enough. What would help most: ");
    list_fixes(out, p, closing);
    fputs(".</p>\n", out);
}
