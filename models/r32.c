/* R-32 (difluoromethane): the equation of Tillner-Roth, R., Yokozeki, A., 1997, "An international
 * standard equation of state for difluoromethane (R-32)", J. Phys. Chem. Ref. Data 26. Numbers as
 * tabulated in open fluid files (MIT license). The saturation curves are fits to the equation, used
 * only to start its equal-fugacity solution. Safety class: ISO 817 / ASHRAE 34 (mildly flammable).
 */
#include "helmholtz_model.h"

static const ct_pair einstein[] = {
    {1.160761, 2.2718538},
    {2.645151, 11.914421},
    {5.794987, 5.1415638},
    {1.129475, 32.768217},
};

/* n, t, d, l */
static const ct_residual_term residual[] = {
    {1.046634, 0.25, 1, 0},     {-0.5451165, 1, 2, 0},    {-0.002448595, -0.25, 5, 0},
    {-0.04877002, -1, 1, 0},    {0.03520158, 2, 1, 0},    {0.00162275, 2, 3, 0},
    {2.377225e-05, 0.75, 8, 0}, {0.029149, 0.25, 4, 0},   {0.003386203, 18, 4, 4},
    {-0.004202444, 26, 4, 3},   {0.0004782025, -1, 8, 1}, {-0.005504323, 25, 3, 4},
    {-0.02418396, 1.75, 5, 1},  {0.4209034, 4, 1, 2},     {-0.4616537, 5, 1, 2},
    {-1.200513, 1, 3, 1},       {-2.59155, 1.5, 1, 1},    {-1.400145, 1, 2, 1},
    {0.8263017, 0.5, 3, 1},
};

const ct_helmholtz_model ct_model_r32 = {
    .M = 0.052024,
    .R = 8.314471,
    .T_red = 351.255,
    .p_crit = 5782000,
    .rho_red = 8150.0846,
    .T_top = 435,
    .pseudo_pure = false,
    .lead1 = -8.258096,
    .lead2 = 6.353098,
    .log_tau = 3.004486,
    .einstein = einstein,
    .einsteins = sizeof einstein / sizeof *einstein,
    .residual = residual,
    .residuals = sizeof residual / sizeof *residual,
    .p_bubble = {CT_CURVE_EXP_TAU,
                 5782000.0,
                 351.255,
                 {{0.019194334673139708, 0.531},
                  {-6.794802163795212, 0.979},
                  {9.276391392786632, 2.203},
                  {-12.327153852761946, 2.382},
                  {28.46579606476374, 3.421},
                  {-28.570870718190093, 3.558}},
                 6},
    .p_dew = {CT_CURVE_EXP_TAU,
              5782000.0,
              351.255,
              {{0.019194334673139708, 0.531},
               {-6.794802163795212, 0.979},
               {9.276391392786632, 2.203},
               {-12.327153852761946, 2.382},
               {28.46579606476374, 3.421},
               {-28.570870718190093, 3.558}},
              6},
    .rho_liquid = {CT_CURVE_LINEAR,
                   8150.0846,
                   351.255,
                   {{3.0283368557227064, 0.358},
                    {-13.30754793568124, 0.676},
                    {53.97035773548243, 0.831},
                    {-41.10515088784585, 0.88},
                    {0.6410010855629815, 2.592},
                    {-18.757652443918627, 16.556}},
                   6},
    .rho_vapor = {CT_CURVE_EXP_TAU,
                  8150.0846,
                  351.255,
                  {{-0.06522522852577171, 0.069},
                   {-3.3577643698607456, 0.425},
                   {-2.746299718061842, 1.18},
                   {-64.77289013657663, 8.115},
                   {511.3349286855849, 12.06},
                   {-1525.315265366156, 16.085}},
                  6},
};
