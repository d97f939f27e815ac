/* The solver that the tests of one program share: made before them, freed after them. */
#ifndef ONE_SOLVER_H
#define ONE_SOLVER_H

#include "plant/balance.h"

static ct_solver *solver;

static int solver_make(void **state)
{
    (void)state;
    return ct_solver_make(&solver, NULL) != CT_OK;
}

static int solver_drop(void **state)
{
    (void)state;
    ct_solver_free(solver);
    return 0;
}

#endif
