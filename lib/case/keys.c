#include "case/keys.h"

static const ct_key_rows *const parts[] = {&ct_keys_site,   &ct_keys_outdoor, &ct_keys_duct,
                                           &ct_keys_indoor, &ct_keys_rest,    &ct_keys_season};

const ct_key_table ct_case_keys = {parts, (int)(sizeof parts / sizeof parts[0])};
