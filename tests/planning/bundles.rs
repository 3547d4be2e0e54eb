//! Leads that lying together makes thicker, and what clamps of their own would save.

use super::support::Planned;

/// Four loads of 45 A side by side along a short leg: warmth decides, not volts.
fn job(own_clamps: bool) -> String {
    let mut text = String::from(
        "title = 'bundle'\nsystem_voltage = '12 V'\nsetting = 'road vehicle'\n\
         [climate]\ncold = '-5 C'\nhot = '35 C'\n\
         [[space]]\nname = 'cab'\ntemperature = '35 C'\n\
         [[place]]\nname = 'rear'\nspace = 'cab'\n[[place]]\nname = 'front'\nspace = 'cab'\n\
         [[leg]]\nfrom = 'rear'\nto = 'front'\nlength = '600 mm'\nspace = 'cab'\n\
         [[battery]]\nname = 'battery'\nplace = 'rear'\nchemistry = 'flooded'\nvoltage = '12 V'\n\
         capacity = '100 Ah'\ncold_crank = '800 A'\n\
         [[bus]]\nname = 'bus'\nplace = 'rear'\npolarity = 'positive'\n\
         [[bus]]\nname = 'back'\nplace = 'rear'\npolarity = 'negative'\n\
         [[lead]]\nname = 'feed'\nfrom = 'battery +'\nto = 'bus'\nprotect = 'none'\n\
         [[lead]]\nname = 'return'\nfrom = 'back'\nto = 'battery -'\n",
    );
    for load in 0..4 {
        let own = if own_clamps && load == 0 {
            "own_clamps = true\n"
        } else {
            ""
        };
        text += &format!(
            "[[load]]\nname = 'lamp {load}'\nplace = 'front'\nkind = 'constant current'\n\
             current = '45 A'\nstud = 'M6'\n\
             [[lead]]\nname = 'out {load}'\nfrom = 'bus'\nto = 'lamp {load} +'\nprotect = 'none'\n{own}\
             [[lead]]\nname = 'home {load}'\nfrom = 'lamp {load} -'\nto = 'back'\n"
        );
    }
    text
}

#[test]
fn a_lead_that_others_make_thicker_is_told_so_and_thinner_on_clamps_of_its_own() {
    let (together, apart) = (Planned::of_text(&job(false)), Planned::of_text(&job(true)));
    let lead = |planned: &Planned, name: &str| {
        let leads = planned.plan.sizing.leads.iter();
        let mut named = leads.filter(|lead| planned.job.lead(lead.lead).name == name);
        named.next().unwrap().clone()
    };
    let (thick, thin) = (lead(&together, "out 0"), lead(&apart, "out 0"));
    let split = thick.split.unwrap();
    assert!(!split.needed && split.saves > split.clamps_cost);
    assert!(thin.area_mm2 < thick.area_mm2);
    assert_eq!(split.size, thin.size);
    assert!(thin.split.is_none());
}
