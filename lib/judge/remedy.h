/* Remedy: what would fix a job on which no speed passes.
 *
 * Most limits name their remedy in limits.h. The rest depends on what else is there: a load no
 * speed carries is a matter of speeds, of the piston or of the outdoor unit. Public. */
#ifndef CT_JUDGE_REMEDY_H
#define CT_JUDGE_REMEDY_H

#include "base/status.h"
#include "judge/sweep.h"

#ifdef __cplusplus
extern "C" {
#endif

/* X(enum, bit, token, words) */
/* clang-format off */
#define CT_REMEDIES(X)                                                                             \
    X(SMALLER_COIL, 0, "smaller_coil", "a smaller coil: longer runs dry the house more")           \
    X(DEHUMIDIFIER, 1, "dehumidifier",                                                             \
      "a dehumidifier as well: at the air the load needs the house stays damp")                    \
    X(DUCTS, 2, "duct_work",                                                                       \
      "duct work or another blower: the speeds there do not give the airflow needed")              \
    X(LARGER_OUTDOOR, 3, "larger_outdoor_unit",                                                    \
      "a larger outdoor unit: no airflow in the range carries the sensible load")                  \
    X(INSULATION, 4, "duct_insulation",                                                            \
      "more insulation on the supply ducts, or drier air around them")                             \
    X(METERING, 5, "metering_device", "another valve or piston size")                              \
    X(MORE_AIR, 6, "more_air",                                                                     \
      "a faster speed or a freer duct: too little air for the coil or for the heat")               \
    X(LESS_HEAD, 7, "less_head", "a clean or larger outdoor coil: it condenses too hot")           \
    X(LARGER_FACE, 8, "larger_face",                                                               \
      "a coil of larger face: the air is too fast to leave the water on it")                       \
    X(LESS_LOAD, 9, "less_load", "a smaller load: shade, seal, insulate")                          \
    X(DO_NOT, 10, "do_not", "not doing this job with this pairing")                                \
    X(LARGER_COIL, 11, "larger_coil", "a larger coil")                                         \
    X(HEAT_TAP, 12, "heat_tap", "another tap for heating, or a freer duct")                        \
    X(FAN, 13, "fan_switch", "the fan on AUTO, without run-on: else it blows the coil's water back")

#define CT_REMEDY_ENUM(id, bit, ...) CT_REMEDY_##id = 1 << (bit),
typedef enum { CT_REMEDY_NONE = 0, CT_REMEDIES(CT_REMEDY_ENUM) } ct_remedy;
#undef CT_REMEDY_ENUM
#define CT_REMEDY_ONE(...) +1
enum { CT_REMEDY_COUNT = 0 CT_REMEDIES(CT_REMEDY_ONE) };
#undef CT_REMEDY_ONE
/* clang-format on */

/* The fan blows over a coil that does not cool, which dries it into the house
 * (part/reevaporation.h). */
static inline bool ct_remedy_fan_runs_on(const ct_house *h)
{
    return h->fan_on || (h->fan_off_delay.has && h->fan_off_delay.v > 0.0);
}

/* Of one remedy: a bit below 1 << CT_REMEDY_COUNT. Never NULL. */
CT_API const char *ct_remedy_token(unsigned remedy);
CT_API const char *ct_remedy_words(unsigned remedy);

/* ct_remedy bits for a sweep on which no speed passes; `failing` counts at how many of the n_points
 * taps, or airflows without taps, each limit fails. */
CT_API unsigned ct_remedies_for(const ct_sweep_job *, const ct_sweep *, const int *failing,
                                int n_points);

#ifdef __cplusplus
}
#endif
#endif
