#include "show/fix_words.h"

#include "base/paragraph.h"
#include "show/json_out.h"
#include "show/limit_words.h"
#include "show/tap_words.h"

/* h ft2 F/Btu, as insulation is sold. */
#define R_IP(si) ((si) / 0.1761101838)

static void name_point(FILE *out, const ct_point *p, const ct_indoor_unit *u, bool metric)
{
    char air[SHOWN_SIZE];
    tap_say(out, &u->blower, p->tap);
    fputs(shown(air, Q_AIRFLOW, p->V, metric), out);
}

static void say_dehumidifier(FILE *out, double water, bool metric)
{
    if (metric)
        fprintf(out, "a dehumidifier of %.0f liters a day", water * 86400);
    else
        fprintf(out, "a dehumidifier of %.0f pints a day", water / CT_KG_S_PER_PINT_DAY);
}

static void say_ducts(FILE *out, const ct_fix *f, const ct_case *c, bool metric)
{
    char dp[SHOWN_SIZE], was[SHOWN_SIZE], V[SHOWN_SIZE];
    fprintf(out, "duct work, so that %s comes to %s of static instead of %s",
            shown(V, Q_AIRFLOW, c->duct.V, metric), shown(dp, Q_STATIC, f->amount, metric),
            shown(was, Q_STATIC, c->duct.dp, metric));
}

static void say_fan(FILE *out, const ct_case *c)
{
    fputs(c->house.fan_on ? "the fan on AUTO instead of ON"
                          : "no blower run-on after the compressor",
          out);
}

/* `tap` counts from 1; 0: a blower without a table, set to move V while it heats. */
static void say_heat_tap(FILE *out, const ct_indoor_unit *u, int tap, double V, bool metric)
{
    char text[SHOWN_SIZE], was[SHOWN_SIZE];
    if (tap > 0)
        fprintf(out, "heating on tap %s", u->blower.tap[tap - 1].name);
    else
        fprintf(out, "heating with %s instead of %s", shown(text, Q_AIRFLOW, V, metric),
                shown(was, Q_AIRFLOW, u->V_heat.v, metric));
}

/* What costs nothing goes first, as it would be done. */
static void say_besides(FILE *out, const ct_fix *f, const ct_case *c, const ct_indoor_unit *u,
                        bool metric)
{
    if (f->also & CT_REMEDY_FAN) {
        say_fan(out, c);
        fputs(f->also & CT_REMEDY_HEAT_TAP ? ", " : ", and ", out);
    }
    if (f->also & CT_REMEDY_HEAT_TAP) {
        say_heat_tap(out, u, f->heat_tap, f->V_heat, metric);
        fputs(", and ", out);
    }
}

static void say_what(FILE *out, const ct_fix *f, const ct_case *c, const ct_indoor_unit *u,
                     bool metric)
{
    char text[SHOWN_SIZE];
    const double tons = f->amount / CT_W_PER_TON;
    say_besides(out, f, c, u, metric);
    switch ((ct_remedy)f->remedy) {
    case CT_REMEDY_METERING:
        if (f->unit == CT_UNIT_LENGTH)
            fprintf(out, "a piston of %s", shown(text, Q_BORE, f->amount, metric));
        else
            fprintf(out, "a valve of %.3g tons%s", tons,
                    u->meter.kind == CT_METER_ORIFICE ? " instead of the piston" : "");
        break;
    case CT_REMEDY_FAN: say_fan(out, c); break;
    case CT_REMEDY_INSULATION:
        fprintf(out, "R-%.2g insulation on the supply ducts", R_IP(f->amount));
        break;
    case CT_REMEDY_HEAT_TAP:
        say_heat_tap(out, u, f->unit == CT_UNIT_AIRFLOW ? 0 : (int)f->amount, f->amount, metric);
        break;
    case CT_REMEDY_DUCTS: say_ducts(out, f, c, metric); break;
    case CT_REMEDY_DEHUMIDIFIER: say_dehumidifier(out, f->amount, metric); break;
    case CT_REMEDY_LESS_LOAD:
        fprintf(out, "%s less sensible load (shade, seal, insulate)",
                shown(text, Q_HEAT, f->amount, metric));
        break;
    case CT_REMEDY_SMALLER_COIL:
        fprintf(out, "a smaller coil, %.2f of the matched one instead of %.2f", f->amount,
                u->coil.size);
        break;
    case CT_REMEDY_LARGER_COIL:
        fprintf(out, "a larger coil, %.2f of the matched one instead of %.2f", f->amount,
                u->coil.size);
        break;
    case CT_REMEDY_LARGER_OUTDOOR:
        fprintf(out, "an outdoor unit of %.3g tons, with a valve to match", tons);
        break;
    default: fputs(ct_remedy_words(f->remedy), out); break;
    }
}

/* And with two stages what is left. */
static void say_passes(FILE *out, const ct_fix *f)
{
    fputs(" passes every limit", out);
    if (f->low_fails)
        fputs(" on the high stage; no speed passes on the low one, so lock it out", out);
}

void fix_explain(FILE *out, const ct_fix *f, const ct_case *c, const ct_indoor_unit *u, bool metric)
{
    say_what(out, f, c, u, metric);
    fputs(f->closes ? ": " : ": helps, but is not enough alone. At ", out);
    name_point(out, &f->point, u, metric);
    if (f->closes) {
        say_passes(out, f);
        return;
    }
    fputs(": ", out);
    limit_explain(out, f->worst, &f->point.limit[f->worst], &f->point, metric);
}

void fix_explain_briefly(FILE *out, const ct_fix *f, const ct_case *c, const ct_indoor_unit *u,
                         bool metric)
{
    say_what(out, f, c, u, metric);
    if (f->closes) {
        fputs(": ", out);
        name_point(out, &f->point, u, metric);
        say_passes(out, f);
        return;
    }
    fputs("; not enough alone: ", out);
    limit_explain_gap(out, f->worst, &f->point.limit[f->worst], &f->point, metric);
}

enum { BEST_FIXES = 3 };

/* Each in an item of a list; `brief`: the best few, in a line or two. */
static void print_list(FILE *out, const ct_fixes *all, const ct_case *c, const ct_indoor_unit *u,
                       bool metric, bool brief)
{
    const int most = brief ? BEST_FIXES : all->n;
    if (all->none_closes)
        paragraph_wrap(out, "do not do this job as planned: no single remedy is enough.", "  - ",
                       4);
    for (int i = 0; i < all->n && i < most; i++) {
        paragraph text;
        FILE *t = paragraph_open(&text);
        if (!t) return;
        (brief ? fix_explain_briefly : fix_explain)(t, &all->fix[i], c, u, metric);
        fputc('.', t);
        paragraph_print(&text, out, "  - ", 4);
    }
}

void fixes_print(FILE *out, const ct_fixes *all, const ct_case *c, const ct_indoor_unit *u,
                 bool metric)
{
    print_list(out, all, c, u, metric, false);
}

void fixes_print_best(FILE *out, const ct_fixes *all, const ct_case *c, const ct_indoor_unit *u,
                      bool metric)
{
    print_list(out, all, c, u, metric, true);
}

static bool put_also(json_t *o, const ct_fix *f)
{
    json_t *list = open_array(o, "also");
    bool good = list != NULL;
    for (unsigned bit = 1; good && bit <= f->also; bit <<= 1)
        if (f->also & bit)
            good = json_array_append_new(list, json_string(ct_remedy_token(bit))) == 0;
    return good;
}

static bool put_one(json_t *list, const ct_fix *f, const ct_case *c, const ct_indoor_unit *u,
                    bool si)
{
    paragraph text;
    FILE *t = paragraph_open(&text);
    json_t *o = open_item(list);
    if (!t) return false;
    fix_explain(t, f, c, u, si);
    fclose(t);
    return o && put_text(o, "fix", ct_remedy_token(f->remedy)) && put_text(o, "text", text.text) &&
           put_value(o, "amount_si", Q_PLAIN, f->amount, si) && put_also(o, f) &&
           put_bool(o, "closes", f->closes) && put_bool(o, "low_stage_fails", f->low_fails) &&
           put_bool(o, "closes_worst", f->closes_worst) &&
           put_value(o, "gap", Q_PLAIN, f->gap, si) &&
           put_value(o, "gap_was", Q_PLAIN, f->gap_was, si) &&
           put_value(o, "airflow", Q_AIRFLOW, f->point.V, si) &&
           (f->point.tap < 0 || put_text(o, "tap", u->blower.tap[f->point.tap].name)) &&
           (f->closes || put_text(o, "fails_on", ct_limit_of(f->worst)->token));
}

bool fixes_put(json_t *object, const ct_fixes *all, const ct_case *c, const ct_indoor_unit *u,
               bool si)
{
    json_t *list = open_array(object, "remedies");
    bool good = list && put_bool(object, "do_not", all->none_closes) &&
                put_text(object, "worst", ct_limit_of(all->worst)->token);
    for (int i = 0; good && i < all->n; i++)
        good = put_one(list, &all->fix[i], c, u, si);
    return good;
}
