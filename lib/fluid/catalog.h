/* Catalog: the refrigerants by name, and what does not come from their equations of state.
 *
 * One row is one refrigerant. Some are modeled: the program computes with them. The others are here
 * so that a coil or a valve made for one of them can be compared with the system. Public.
 *
 * Sources:
 *   safety class        ISO 817 / ASHRAE 34
 *   oil                 common practice, no source: what the equipment was filled with when new
 *   phased out          Montreal Protocol; left production in the US in 1996, R-22
 *                       in 2020 (from memory, unconfirmed)
 *   pressure            of the liquid at 80 F: of the modeled ones, R-427A and R-422D from their
 *                       equations of state (those two: Lemmon & Jacobsen 2004, J. Phys. Chem. Ref.
 *                       Data 33:593, read between 50 and 120 F); of the others from the charts
 *                       technicians carry (from memory, unconfirmed)
 *   glide               dew less bubble temperature at the pressure whose dew is at 45 F, from the
 *                       same equations; R-438A from memory, unconfirmed
 *   service blends      R-427A, R-422D and R-438A go into R-22 equipment; the last two carry a
 *                       hydrocarbon so that its mineral oil may stay (common practice, no source)
 *   viscosity           of the saturated liquid at 100 F (from memory, unconfirmed). Between 80 and
 *                       120 F it moves by a fifth, and the friction in a liquid line by 4 %
 *   orifice             the fluids Payne & O'Neal 2004 fitted their flow equation to */
#ifndef CT_FLUID_CATALOG_H
#define CT_FLUID_CATALOG_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The modeled ones, a row each: the words of the case key, the catalog and the models follow.
 * X(model, name, safety, oil, phased out, orifice, psig at 80 F, glide, viscosity), as in
 * ct_catalog_row; `sep` goes between two rows. */
/* clang-format off */
#define CT_CATALOG_MODELS(X, sep)                                                                \
    X(r22, "R-22", "A1", CT_OIL_MINERAL, true, true, 143.6, 0, 142e-6) sep                         \
    X(r410a, "R-410A", "A1", CT_OIL_ESTER, false, true, 236.3, 0.1, 103e-6) sep                    \
    X(r407c, "R-407C", "A1", CT_OIL_ESTER, false, true, 165.8, 6.1, 132e-6) sep                    \
    X(r32, "R-32", "A2L", CT_OIL_ESTER, false, false, 241.0, 0, 98e-6) sep                         \
    X(r454b, "R-454B", "A2L", CT_OIL_ESTER, false, false, 225.4, 1.5, 104e-6)
/* clang-format on */

/* Their names, as a list of words to choose from: "R-22|R-410A|...". */
#define CT_CATALOG_NAME(model, name, ...) name
#define CT_CATALOG_MODELED CT_CATALOG_MODELS(CT_CATALOG_NAME, "|")

typedef enum { CT_OIL_MINERAL, CT_OIL_ESTER } ct_oil; /* ester: polyol ester, POE */

struct ct_helmholtz_model;

typedef struct {
    const char *name;   /* "R-410A", as it is written everywhere */
    const char *safety; /* "A1", "A2L" */
    ct_oil oil;
    bool phased_out;                        /* no longer made or imported: recover, do not top up */
    bool orifice;                           /* the orifice's flow equation was fitted to it */
    double psig_80F;                        /* pressure of the liquid at 80 F, psig */
    double glide;                           /* K, at a dew temperature of 45 F; 0: none */
    double viscosity;                       /* Pa s, of the saturated liquid at 100 F; or 0 */
    const struct ct_helmholtz_model *model; /* NULL: known by name only */
} ct_catalog_row;

/* The row of a name under any spelling: letter case, blanks, hyphens and dots are free, R, HFC,
 * HCFC and CFC are one prefix, and R may be left out ("r410a", "R 410 A", "HCFC-22", "410A"). NULL:
 * not in the catalog. */
CT_API const ct_catalog_row *ct_catalog_find(const char *name);

/* The same refrigerant under two spellings? Also of names that are not in the catalog. */
CT_API bool ct_catalog_same(const char *a, const char *b);

/* One refrigerant of a list as a plate writes it, "R-22, R-410A" or "R-22/R-410A", copied to
 * `name`; gives the rest of the list, NULL when there is none left. `size` is that of name. */
CT_API const char *ct_catalog_next(const char *list, char *name, size_t size);

/* Whether the list names this refrigerant. */
CT_API bool ct_catalog_lists(const char *list, const char *name);

/* Row i from 0; NULL past the last. */
CT_API const ct_catalog_row *ct_catalog_at(int i);

#ifdef __cplusplus
}
#endif
#endif
