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

ct_status ct_usual_size(ct_node *root, ct_case_report *report)
{
    if (!root || ct_tree_find(root, "outdoor.tons") || ct_tree_find(root, "outdoor.rated_capacity"))
        return CT_OK;
    const double amps =
        read_plate(ct_tree_find(root, "outdoor.rated_load_amps"), CT_UNIT_CURRENT, NAN);
    const double volts = read_plate(ct_tree_find(root, "outdoor.volts"), CT_UNIT_VOLTAGE, VOLTS);
    const double tons = ct_usual_tons(amps, volts), Q = CT_USUAL_PER_TON * tons;
    ct_assumed size = {.key = "outdoor.tons", .v = tons, .why = CT_USUAL_TONS_WHY};
    ct_assumed capacity = {
        .key = "outdoor.rated_capacity", .v = Q * CT_W_PER_BTUH, .why = CT_USUAL_CAPACITY_WHY};
    char number[32];
    if (!isfinite(amps)) return CT_OK;
    snprintf(size.text, sizeof size.text, "%s ton",
             ct_number_write(tons, 6, number, sizeof number));
    snprintf(capacity.text, sizeof capacity.text, "%s Btu/h",
             ct_number_write(round(Q / 100.0) * 100.0, 9, number, sizeof number));
    const ct_status status = put(root, report, &size);
    return status == CT_OK ? put(root, report, &capacity) : status;
}
