#include "explain/sections.h"

void sections_balance(sheet *s, const explained *e)
{
    section_air(s, e);
    section_airflow(s, e);
    section_coil(s, e);
    section_refrigerant(s, e);
    section_condenser(s, e);
    section_crossing(s, e);
    section_net(s, e);
    section_load(s, e);
    section_heating(s, e);
}
