/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Networks of textbooks: pipes and pumps as parts of our kinds, flows of the solver. */
#ifndef HR_PUBLISHED_PIPES_H
#define HR_PUBLISHED_PIPES_H

#include "../unit/part/part_test.h"
#include "net.h"

/* One pipe of a book's table. */
struct pipe {
    uint32_t from, to;
    double length, bore, rough; /* m; rough: height */
};

/* Adds a branch with the laws of a part; `part` must outlive the network where its law has a curve. */
static inline uint32_t add_part(struct net *net, uint32_t from, uint32_t to, const struct hr_part_kind *kind,
                                const struct test_part *part, const struct hr_fluid_state *fluid)
{
    const struct hr_setting setting = {.fluid = fluid, .speed_rpm = NAN};
    struct hr_part_branch laws[HR_PORTS_MAX];
    kind->bind(part->part, &setting, laws);
    ck_assert(!laws[0].one_way && !laws[0].closed && !laws[0].fixed_flow);
    const uint32_t branch = net_join(net, from, to);
    for (size_t i = 0; i < laws[0].law_count; i++) {
        net_also(net, laws[0].law[i]);
    }
    return branch;
}

/* A long pipe, its flow developed, with a friction law by name. */
static inline uint32_t add_pipe(struct net *net, struct pipe pipe, const char *friction,
                                const struct hr_fluid_state *fluid)
{
    struct test_part part;
    test_start(&part);
    test_number(&part, &hr_kind_tube, "length", pipe.length);
    test_number(&part, &hr_kind_tube, "bore", pipe.bore);
    test_number(&part, &hr_kind_tube, "roughness", pipe.rough);
    test_choice(&part, &hr_kind_tube, "entrance", "developed");
    test_choice(&part, &hr_kind_tube, "friction", friction);
    test_make(&part, &hr_kind_tube);
    const uint32_t branch = add_part(net, pipe.from, pipe.to, &hr_kind_tube, &part, fluid);
    test_end(&part);
    return branch;
}

/* A pump H = shut_off (1 - (q/free_flow)^2), in Pa and m3/s; test_end(part) when done. */
static inline uint32_t add_pump(struct net *net, uint32_t from, uint32_t to, struct test_part *part,
                                double shut_off, double free_flow, double in_parallel,
                                const struct hr_fluid_state *fluid)
{
    const struct test_pair curve[] = {{"shut_off", shut_off}, {"free_flow", free_flow}, {NULL, 0.0}};
    test_start(part);
    test_map(part, &hr_kind_pump, "curve", curve);
    test_number(part, &hr_kind_pump, "in_parallel", in_parallel);
    test_make(part, &hr_kind_pump);
    return add_part(net, from, to, &hr_kind_pump, part, fluid);
}

#endif
