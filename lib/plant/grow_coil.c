#include "plant/grow_coil.h"

#include <math.h>

/* Growth laws. Face: same rows and fins, more face, so the same air comes slower (h falls with
 * velocity^n) and, unless circuits are stated, there are more parallel paths of the same length.
 * Depth: more rows behind the same face, same circuits made longer. Boiling coefficients go with
 * mass flux^n_r, so UAi = area x (flow per path)^n_r. */
static ct_status grow(const ct_coil_spec *spec, ct_coil *coil, ct_fault *fault)
{
    bool face = spec->growth == CT_GROW_FACE;
    double circuits = spec->circuits.has ? spec->circuits.v : face ? spec->size : 1.0;

    coil->Ao *= spec->size;
    coil->UAi_ref *= spec->size * pow(circuits, -coil->n_r);
    if (!face) return CT_OK;
    coil->m_air_ref *= spec->size;
    coil->geometry.face *= spec->size;
    return ct_finside_areas(&coil->geometry, &coil->areas, fault);
}

/* From one known geometry to another: the correction the nameplate put on the correlation is
 * carried over; the refrigerant side goes with inside area, mass flux^n_r and tube diameter^(n_r -
 * 1), the diameter law of every h D/k ~ Re^n correlation. */
static ct_status regeometry(const ct_coil_spec *spec, ct_coil *coil, ct_fault *fault)
{
    const ct_coil_geometry *new = &spec->geometry;
    ct_coil_geometry old = coil->geometry;
    ct_fin_areas areas;
    ct_status status = ct_finside_areas(new, &areas, fault);

    if (status != CT_OK) return status;
    double flux_ratio =
        old.circuits * coil->areas.circuit_area / (new->circuits *areas.circuit_area);
    double diameter_ratio = sqrt(areas.circuit_area / coil->areas.circuit_area);
    coil->UAi_ref *= areas.Ai / coil->areas.Ai * pow(flux_ratio, coil->n_r) *
                     pow(diameter_ratio, coil->n_r - 1.0);
    coil->geometry = *new;
    coil->areas = areas;
    coil->Ao = areas.Ao;
    return CT_OK;
}

ct_status ct_grow_coil(const ct_case *c, const ct_coil *matched, const ct_coil_spec *spec,
                       ct_coil *coil, ct_fault *fault)
{
    ct_coil grown = *matched;

    if (spec->has_geometry) {
        ct_status status;
        if (!c->has_matched_geometry)
            return ct_fault_say(
                fault, CT_INPUT,
                "the new coil has a geometry but the matched coil has none: give both, or "
                "give the new coil's relative size");
        status = regeometry(spec, &grown, fault);
        if (status != CT_OK) return status;
    } else {
        if (!(spec->size >= 0.3 && spec->size <= 4.0))
            return ct_fail(fault, CT_RANGE, spec->size, 0.3, 4.0,
                           "relative coil size %.2f: allowed 0.3 to 4", spec->size);
        if (spec->circuits.has && !(spec->circuits.v >= 0.2 && spec->circuits.v <= 5.0))
            return ct_fail(fault, CT_RANGE, spec->circuits.v, 0.2, 5.0,
                           "circuits %.2f times the matched coil's: allowed 0.2 to 5",
                           spec->circuits.v);
        ct_status status = grow(spec, &grown, fault);
        if (status != CT_OK) return status;
    }
    *coil = grown;
    return CT_OK;
}
