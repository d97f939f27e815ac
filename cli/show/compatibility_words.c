#include "show/compatibility_words.h"

#include <math.h>

#include "base/units.h"
#include "show/limit_words.h"

const char *compatibility_token(int bit)
{
    return ct_compatibility_token(1u << bit);
}

bool compatibility_refuses(int bit)
{
    return ct_compatibility_kind(1u << bit) == CT_FINDING_REFUSES;
}

/* Pressures are judged absolute; a plate gives gauge pressure, at sea level, in whole numbers. */
static const char *gauge(char text[SHOWN_SIZE], double p, double (*whole)(double), bool metric)
{
    const quantity_form *form = quantity_for_people(Q_PRESSURE_GAUGE, metric);
    const double v = quantity_show(form, p - CT_ATM_PA), near = round(v);
    /* 220 psig read and shown again may be 219.9999999999. */
    snprintf(text, SHOWN_SIZE, "%.0f %s", fabs(v - near) < 1e-6 ? near : whole(v), form->unit);
    return text;
}

static void explain_pressure(FILE *out, bool stated, const ct_checks *k, const ct_indoor_unit *u,
                             bool metric)
{
    char needed[SHOWN_SIZE], has[SHOWN_SIZE], T[SHOWN_SIZE];
    const quantity_form *degrees = quantity_for_people(Q_TEMPERATURE, metric);
    gauge(needed, k->p_needed, ceil, metric);
    snprintf(T, sizeof T, "%.0f %s", quantity_show(degrees, k->T_needed), degrees->unit);
    if (stated)
        fprintf(
            out,
            "the coil's design pressure, %s, is below the %s a stopped system reaches at %s: it "
            "may burst; do not install it",
            gauge(has, u->coil.p_design.v, floor, metric), needed, T);
    else
        fprintf(out,
                "the coil's design pressure is not given: read it on its nameplate; it must be at "
                "least %s, what a stopped system reaches at %s",
                needed, T);
}

static void explain_unstated(FILE *out, const ct_indoor_unit *u, const char *system)
{
    const bool coil = !u->coil.refrigerant[0];
    const bool valve = u->meter.kind == CT_METER_VALVE && !u->meter.refrigerant[0];
    fprintf(out, "the refrigerant of the %s is not given: it must be made for %s",
            coil && valve ? "coil and of the valve"
            : coil        ? "coil"
                          : "valve",
            system);
}

void compatibility_explain(FILE *out, int bit, const ct_checks *k, const ct_indoor_unit *u,
                           const ct_refrigerant *r, bool metric)
{
    const char *system = ct_refrigerant_name(r);
    switch ((ct_check)(1 << bit)) {
    case CT_CHECK_COIL_REFRIGERANT:
        fprintf(out,
                "the coil is made for %s, the system runs on %s: its circuits and its metering "
                "device are sized for another flow; ask the manufacturer before installing it",
                u->coil.refrigerant, system);
        break;
    case CT_CHECK_METER_REFRIGERANT:
        fprintf(out,
                "the valve is made for %s: on %s it cannot hold its superheat; replace the valve",
                u->meter.refrigerant, system);
        break;
    case CT_CHECK_PRESSURE: explain_pressure(out, true, k, u, metric); break;
    case CT_CHECK_PRESSURE_UNSTATED: explain_pressure(out, false, k, u, metric); break;
    case CT_CHECK_REFRIGERANT_UNSTATED: explain_unstated(out, u, system); break;
    case CT_CHECK_FLAMMABLE:
        fprintf(out, "%s is flammable (%s): check charge limit, leak detection and room size",
                system, ct_refrigerant_safety(r));
        break;
    case CT_CHECK_OIL:
        fprintf(out, "%s and %s use different oils: flush the old oil out of a used coil",
                u->coil.refrigerant, system);
        break;
    case CT_CHECK_PHASED_OUT:
        fprintf(
            out,
            "%s is no longer made or imported in many countries: find and repair leaks, recover "
            "the charge, do not top up",
            system);
        break;
    case CT_CHECK_CORRELATION:
        fprintf(out,
                "the piston's flow equation was not made for %s: its superheat is a rough value",
                system);
        break;
    case CT_CHECK_COIL_PRESSURE:
        fprintf(out,
                "the coil is made for %s, and %s has a much higher pressure: it may burst; do not "
                "install it unless its nameplate gives a design pressure that is high enough",
                u->coil.refrigerant, system);
        break;
    case CT_CHECK_COIL_FLAMMABLE:
        fprintf(out,
                "%s is flammable (%s), the coil is made for %s, which is not: do not install it; "
                "use an indoor unit listed for %s",
                system, ct_refrigerant_safety(r), u->coil.refrigerant, system);
        break;
    case CT_CHECK_SET_VALVE:
        fprintf(out, "the valve works with %s: set its refrigerant to %s before starting",
                u->meter.refrigerant, system);
        break;
    }
}
