/* R-407C (R-32/125/134a, 23/25/52 % by mass): the pseudo-pure equation of Lemmon, E.W., 2003,
 * "Pseudo-pure fluid equations of state for the refrigerant blends R-410A, R-404A, R-507A, and
 * R-407C", Int. J. Thermophysics 24. Numbers as tabulated in open fluid files (MIT license). The
 * bubble and dew pressure curves are part of the equation; the density curves are fits, start
 * values only. Safety class: ISO 817 / ASHRAE 34. */
#include "helmholtz_model.h"

static const ct_pair power[] = {
    {-14.3914, -0.4},
};

static const ct_pair einstein[] = {
    {1.4245, 2.40437},
    {3.9419, 5.25122},
    {3.1209, 13.3632},
};

/* n, t, d, l */
static const ct_residual_term residual[] = {
    {1.0588, 0.241, 1, 0},   {-1.12018, 0.69, 1, 0},    {0.629064, 2.58, 1, 0},
    {-0.351953, 1.15, 2, 0}, {0.00455978, 0.248, 5, 0}, {-1.75725, 2.15, 1, 1},
    {-1.12009, 2.43, 2, 1},  {0.0277353, 5.3, 2, 1},    {0.898881, 0.76, 3, 1},
    {-1.17591, 1.48, 3, 1},  {0.0818591, 0.24, 5, 1},   {-0.0794097, 2.86, 5, 1},
    {-1.04047e-05, 8, 5, 1}, {0.233779, 3.3, 1, 2},     {-0.29179, 4.7, 1, 2},
    {0.0154776, 0.45, 4, 2}, {-0.0314579, 8.4, 4, 2},   {-0.00442552, 16.2, 2, 3},
    {-0.0101254, 26, 4, 3},  {0.00915953, 16, 5, 3},    {-0.003615, 8.7, 6, 3},
};

const ct_helmholtz_model ct_model_r407c = {
    .M = 0.0862036,
    .R = 8.314472,
    .T_red = 359.345,
    .p_crit = 4631700,
    .rho_red = 5260.000046401775,
    .T_top = 500,
    .pseudo_pure = true,
    .lead1 = 2.13194,
    .lead2 = 8.05008,
    .log_tau = -1,
    .power = power,
    .powers = sizeof power / sizeof *power,
    .einstein = einstein,
    .einsteins = sizeof einstein / sizeof *einstein,
    .residual = residual,
    .residuals = sizeof residual / sizeof *residual,
    .p_bubble = {CT_CURVE_EXP_TAU,
                 4631700.0,
                 359.345,
                 {{0.48722, 0.54}, {-6.6959, 0.925}, {-1.4165, 2.7}, {-2.5109, 4.7}},
                 4},
    .p_dew = {CT_CURVE_EXP_TAU,
              4631700.0,
              359.345,
              {{-0.086077, 0.4}, {-6.6364, 0.965}, {-2.4648, 3.1}, {-3.4776, 5.0}},
              4},
    .rho_liquid = {CT_CURVE_LINEAR,
                   5260.000046401775,
                   359.345,
                   {{5.484626525085367, 0.478},
                    {-132.94290476910828, 1.487},
                    {390.0966131363964, 1.826},
                    {-414.8227131759332, 2.271},
                    {424.49338909908334, 3.413},
                    {-294.0732646506709, 4.019}},
                   6},
    .rho_vapor = {CT_CURVE_EXP_TAU,
                  5260.000046401775,
                  359.345,
                  {{-0.7403294274768993, 0.36},
                   {-3.4984730053164657, 0.53},
                   {-3.707063870074722, 1.61},
                   {9.58842271173753, 2.842},
                   {-15.235025525549892, 3.565},
                   {7.7277234094710305, 7.376}},
                  6},
};
