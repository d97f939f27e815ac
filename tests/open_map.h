/* A compressor map that anybody may use, for tests. */
#ifndef TESTS_OPEN_MAP_H
#define TESTS_OPEN_MAP_H

#include <string.h>

#include "case/case.h"

/* An openly published AHRI 540 set, R-410A, nominal 3 ton, map superheat 20 F, maker unknown
 * (several identical public copies; original source unconfirmed). lbm/h and W of saturated suction
 * and discharge (dew) in F. */
static const double MAP_M[10] = {217.3163128, 5.094492028, -0.593170311, 0.0438,  -0.0214,
                                 0.0104,      7.90e-5,     -5.73e-5,     1.79e-4, -8.08e-5};
static const double MAP_W[10] = {-561.3615705, -15.62601841, 46.92506685, -0.217949552, 0.435062616,
                                 -0.442400826, 2.25e-4,      2.37e-3,     -3.32e-3,     2.50e-3};

static inline void open_map_use(ct_case *c)
{
    c->outdoor.compressor = CT_COMPRESSOR_MAP;
    c->outdoor.map_superheat = 20 / 1.8;
    memcpy(c->outdoor.map_m, MAP_M, sizeof MAP_M);
    memcpy(c->outdoor.map_P, MAP_W, sizeof MAP_W);
}

#endif
