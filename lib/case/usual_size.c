#include "case/usual_size.h"

#include <math.h>
#include <stdio.h>

#include "base/number.h"
#include "base/units.h"
#include "case/note.h"

/* Rated load amps of a single-phase compressor for each ton at 230 V: 5 to 6.5 over the classes of
 * efficiency sold; they are set by the motor's protector, above what it draws at the rating. Common
 * practice, no source. */
#define AMPS_PER_TON 5.7
#define VOLTS 230.0

double ct_usual_tons(double amps, double volts)
{
    return fmax(0.5, round(2.0 * amps * volts / VOLTS / AMPS_PER_TON) / 2.0);
}

double ct_usual_tons_of(double Q)
{
    const double tons = round(2.0 * Q / CT_W_PER_BTUH / CT_USUAL_PER_TON) / 2.0;
    return tons < 0.5 ? 0.5 : tons;
}

static ct_status put(ct_node *root, ct_case_report *report, ct_assumed *a)
{
    ct_note_assumption(report, a->key, a->v, a->text, a->why);
    return ct_tree_put(root, a->key, a->text, CT_LINE_OF_PAIR);
}

static double read_plate(const ct_node *node, ct_unit_kind kind, double usual)
{
    double v;
    return node && node->kind == CT_NODE_TEXT && ct_units_read(node->text, kind, &v, NULL) == CT_OK
               ? v
               : usual;
}

static ct_status put_size(ct_node *root, ct_case_report *report, double tons, const char *why)
{
    ct_assumed size = {.key = "outdoor.tons", .v = tons};
    char number[32];
    snprintf(size.why, sizeof size.why, "%s", why);
    snprintf(size.text, sizeof size.text, "%s ton",
             ct_number_write(tons, 6, number, sizeof number));
    return put(root, report, &size);
}

static ct_status put_capacity(ct_node *root, ct_case_report *report, double tons)
{
    const double Q = CT_USUAL_PER_TON * tons;
    ct_assumed capacity = {
        .key = "outdoor.rated_capacity", .v = Q * CT_W_PER_BTUH, .why = CT_USUAL_CAPACITY_WHY};
    char number[32];
    snprintf(capacity.text, sizeof capacity.text, "%s Btu/h",
             ct_number_write(round(Q / 100.0) * 100.0, 9, number, sizeof number));
    return put(root, report, &capacity);
}

ct_status ct_usual_size(ct_node *root, ct_case_report *report)
{
    const ct_node *tons_node = ct_tree_find(root, "outdoor.tons");
    const ct_node *Q_node = ct_tree_find(root, "outdoor.rated_capacity");
    const double amps =
        read_plate(ct_tree_find(root, "outdoor.rated_load_amps"), CT_UNIT_CURRENT, NAN);
    const double volts = read_plate(ct_tree_find(root, "outdoor.volts"), CT_UNIT_VOLTAGE, VOLTS);
    double tons = ct_usual_tons(amps, volts);
    ct_status status = CT_OK;
    if (!isfinite(amps) || (tons_node && Q_node)) return CT_OK;
    if (tons_node) tons = read_plate(tons_node, CT_UNIT_TONS, NAN);
    if (Q_node) tons = ct_usual_tons_of(read_plate(Q_node, CT_UNIT_POWER, NAN));
    if (!isfinite(tons)) return CT_OK;
    if (!tons_node)
        status = put_size(root, report, tons,
                          Q_node ? CT_USUAL_TONS_OF_CAPACITY_WHY : CT_USUAL_TONS_WHY);
    return status == CT_OK && !Q_node ? put_capacity(root, report, tons) : status;
}
