/* R-410A (R-32/125, 50/50 % by mass): the pseudo-pure equation of Lemmon, E.W., 2003, "Pseudo-pure
 * fluid equations of state for the refrigerant blends R-410A, R-404A, R-507A, and R-407C", Int. J.
 * Thermophysics 24. Numbers as tabulated in open fluid files (MIT license). The bubble and dew
 * pressure curves are part of the equation; the density curves are fits, start values only. Safety
 * class: ISO 817 / ASHRAE 34. */
#include "helmholtz_model.h"

static const ct_pair power[] = {
    {-46.87575, -0.1},
};

static const ct_pair einstein[] = {
    {2.0623, 2.02326},
    {5.9751, 5.00154},
    {1.5612, 11.2484},
};

/* n, t, d, l */
static const ct_residual_term residual[] = {
    {0.987252, 0.44, 1, 0},    {-1.03017, 1.2, 1, 0},   {1.17666, 2.97, 1, 0},
    {-0.138991, 2.95, 2, 0},   {0.00302373, 0.2, 5, 0}, {-2.53639, 1.93, 1, 1},
    {-1.9668, 1.78, 2, 1},     {-0.83048, 3, 3, 1},     {0.172477, 0.2, 5, 1},
    {-0.261116, 0.74, 5, 1},   {-0.0745473, 3, 5, 1},   {0.679757, 2.1, 1, 2},
    {-0.652431, 4.3, 1, 2},    {0.0553849, 0.25, 4, 2}, {-0.071097, 7, 4, 2},
    {-0.000875332, 4.7, 9, 2}, {0.020076, 13, 2, 3},    {-0.0139761, 16, 2, 3},
    {-0.018511, 25, 4, 3},     {0.0171939, 17, 5, 3},   {-0.00482049, 7.4, 6, 3},
};

const ct_helmholtz_model ct_model_r410a = {
    .M = 0.0725854,
    .R = 8.314472,
    .T_red = 344.494,
    .p_crit = 4901200,
    .rho_red = 6324,
    .T_top = 500,
    .pseudo_pure = true,
    .lead1 = 36.8871,
    .lead2 = 7.15807,
    .log_tau = -1,
    .power = power,
    .powers = sizeof power / sizeof *power,
    .einstein = einstein,
    .einsteins = sizeof einstein / sizeof *einstein,
    .residual = residual,
    .residuals = sizeof residual / sizeof *residual,
    .p_bubble = {CT_CURVE_EXP_TAU,
                 4901200.0,
                 344.494,
                 {{-7.2818, 1.0}, {2.5093, 1.8}, {-3.2695, 2.4}, {-2.8022, 4.9}},
                 4},
    .p_dew = {CT_CURVE_EXP_TAU,
              4901200.0,
              344.494,
              {{-7.4411, 1.0}, {1.9883, 1.6}, {-2.4925, 2.4}, {-3.2633, 5.0}},
              4},
    .rho_liquid = {CT_CURVE_LINEAR,
                   6324,
                   344.494,
                   {{17.62376356934577, 0.732},
                    {-34.49248423230781, 1.165},
                    {229.4790425881445, 2.775},
                    {-332.5139608181856, 3.462},
                    {23058076.978355706, 15.531},
                    {-31889422.797179773, 15.944}},
                   6},
    .rho_vapor = {CT_CURVE_EXP_TAU,
                  6324,
                  344.494,
                  {{-25.00709732482156, 0.676},
                   {34.83593078562833, 0.844},
                   {-33.0203056956001, 1.394},
                   {61.19129776625034, 2.411},
                   {-63.32155175461899, 3.149},
                   {149.8912653231937, 7.808}},
                  6},
};
