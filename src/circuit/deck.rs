//! The network of a state as a deck for a general circuit simulator.

use std::fmt::Write;

use super::converter::Converter;
use super::network::{BranchOwner, DrawKind, Network};
use crate::job::Job;

/// One complete deck, with the volts found for it. The simulator prints the volts of every node in
/// batch mode, and the amperes through a short.
pub fn deck(
    job: &Job,
    name: &str,
    network: &Network,
    volts: &[f64],
    references: &[usize],
) -> String {
    let names = Nodes {
        ground: references.first().copied(),
    };
    let mut text = String::new();
    // A string takes any write, so the results below carry no information.
    let _ = writeln!(text, "* state: {}", one_line(name));
    for (node, terminal) in job.terminals.iter().enumerate() {
        let _ = writeln!(
            text,
            "* terminal: {} = {}",
            one_line(&terminal.name),
            names.of_node(node)
        );
    }
    branches(&mut text, job, network, &names);
    sources(&mut text, network, &names);
    draws(&mut text, network, &names);
    converters(&mut text, network, volts, &names);
    for (index, node) in references.iter().enumerate().skip(1) {
        let _ = writeln!(text, "Vreference{index} {} 0 0", names.of_node(*node));
    }
    text.push_str(
        ".options reltol=1e-9 vntol=1e-12 abstol=1e-12 gmin=1e-15 itl1=1000\n\
         .control\nset numdgt=12\nop\nprint all\nquit 0\n.endc\n.end\n",
    );
    text
}

/// Names of nodes; the reference of the first part of the network is the simulator's own.
struct Nodes {
    ground: Option<usize>,
}

impl Nodes {
    fn of_node(&self, node: usize) -> String {
        if self.ground == Some(node) {
            "0".to_owned()
        } else {
            format!("n{node}")
        }
    }
}

fn branches(text: &mut String, job: &Job, network: &Network, names: &Nodes) {
    for (index, branch) in network.branches.iter().enumerate() {
        let (from, to) = (names.of_node(branch.from), names.of_node(branch.to));
        let _ = match branch.owner {
            BranchOwner::Lead(lead) => {
                writeln!(text, "* lead: {}", one_line(&job.lead(lead).name))
            }
            BranchOwner::Bond(_) => writeln!(text, "* existing metal"),
            BranchOwner::Device(device) => {
                let name = &job.devices[device].given.name.value;
                writeln!(text, "* device: {}", one_line(name))
            }
            BranchOwner::Fault => {
                // A source of nothing is the simulator's ammeter.
                let _ = writeln!(text, "* short\nVshort s{index} {to} 0");
                let _ = writeln!(text, "R{index} {from} s{index} {:.12e}", branch.ohm);
                continue;
            }
        };
        let _ = writeln!(text, "R{index} {from} {to} {:.12e}", branch.ohm);
    }
}

fn sources(text: &mut String, network: &Network, names: &Nodes) {
    for (index, source) in network.sources.iter().enumerate() {
        let plus = names.of_node(source.positive);
        let minus = names.of_node(source.negative);
        let (volts, ohm) = (source.volts, source.ohm);
        let _ = match source.limit_a {
            Some(limit) => writeln!(
                text,
                "Balternator{index} {minus} {plus} I = max(0, min({limit:.12e}, \
                 ({volts:.12e} - {}) / {ohm:.12e}))",
                across(&plus, &minus)
            ),
            None => writeln!(
                text,
                "Vbattery{index} e{index} {minus} {volts:.12e}\n\
                 Rbattery{index} e{index} {plus} {ohm:.12e}"
            ),
        };
    }
}

fn draws(text: &mut String, network: &Network, names: &Nodes) {
    for (index, draw) in network.draws.iter().enumerate() {
        let floor = draw.floor_v(network.floor_v);
        let plus = names.of_node(draw.positive);
        let minus = names.of_node(draw.negative);
        let volts = across(&plus, &minus);
        let _ = match draw.kind {
            DrawKind::Ohms(ohm) => writeln!(text, "Rload{index} {plus} {minus} {ohm:.12e}"),
            DrawKind::Amps(amps) => writeln!(
                text,
                "Bload{index} {plus} {minus} I = {amps:.12e} * min({volts} / {floor:.12e}, 1)"
            ),
            DrawKind::Watts(watts) => writeln!(
                text,
                "Bload{index} {plus} {minus} I = {watts:.12e} / max({volts}, {floor:.12e}) * \
                 min({volts} / {floor:.12e}, 1)"
            ),
        };
    }
}

fn converters(text: &mut String, network: &Network, found: &[f64], names: &Nodes) {
    for (index, converter) in network.converters.iter().enumerate() {
        let nodes = |(plus, minus)| (names.of_node(plus), names.of_node(minus));
        let (plus, minus) = nodes(converter.output);
        let (fed, back) = nodes(converter.input);
        let (input, output) = (across(&fed, &back), across(&plus, &minus));
        let (volts, ohm) = (converter.volts, converter.ohm);
        let amps = format!(
            "max(0, min({:.12e}, ({volts:.12e} - {output}) / {ohm:.12e}))",
            converter.limit_a
        );
        let _ = if idles(found, converter) {
            writeln!(
                text,
                "Voutput{index} o{index} {minus} {volts:.12e}\n\
                 Routput{index} o{index} {plus} {ohm:.12e}"
            )
        } else {
            writeln!(text, "Boutput{index} {minus} {plus} I = {amps}")
        };
        let (efficiency, floor) = (converter.efficiency, converter.floor_v);
        let _ = writeln!(
            text,
            "Binput{index} {fed} {back} I = max(0, {output}) * {amps} / {efficiency:.12e} / \
             max({input}, {floor:.12e}) * min({input} / {floor:.12e}, 1)"
        );
    }
}

/// Whether nothing draws from an output, so that it rests at its voltage. There the simulator's
/// search would jump to and fro across the bend between giving and not giving.
fn idles(volts: &[f64], converter: &Converter) -> bool {
    const NOTHING_A: f64 = 1e-6;
    let across = |(plus, minus): (usize, usize)| volts[plus] - volts[minus];
    let flow = converter.flow(across(converter.input), across(converter.output));
    !converter.backed && flow.output_a.abs() < NOTHING_A
}

fn across(plus: &str, minus: &str) -> String {
    match (plus, minus) {
        (plus, "0") => format!("V({plus})"),
        ("0", minus) => format!("(0 - V({minus}))"),
        (plus, minus) => format!("(V({plus}) - V({minus}))"),
    }
}

/// A name may hold anything; a comment line may not be broken.
fn one_line(name: &str) -> String {
    name.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}
