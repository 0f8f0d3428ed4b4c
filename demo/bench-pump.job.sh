#!/bin/sh
# A whole job on the bench pump, from the order to the hand-over: three people, two findings, a change of shift, all of it invented.
# Call: demo/bench-pump.job.sh SHOP, a new file or the address of an empty database. UNMOOR says how unmoor is called.
set -eu
shop=$1
run=bench-pump-1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
unmoor() { ${UNMOOR:-npx unmoor} "$@"; }
enter() { unmoor entry "$shop" $run "$@"; }
many() { unmoor entry "$shop" $run --from-file -; }
# What must be refused, or shut.
not() { if "$@"; then echo "this should not have gone: $*" >&2; exit 9; fi }
finding() { sed -n 's/^.*: finding:.*(\([0-9a-f]*\))$/\1/p' "$1"; }

echo "== the order: Emil and Dora work, Dora answers for the lift, Frida is the foreman"
unmoor order "$shop" demo/bench-pump.vehicle.yaml --job shaft-seal --crew demo/shop.crew.yaml \
  --approver dora --foreman frida --by frida --machine BP-0042 --option "relief valve 210 bar"
unmoor run "$shop" $run --by frida

echo "== out, until a clamp will not turn"
not unmoor gate "$shop" $run lift
many <<'ENTRIES'
{"by":"emil","kind":"claimed","place":"near","system":"hydraulics"}
{"by":"emil","kind":"released","at":"guard-screws"}
{"by":"emil","kind":"counted","at":"guard-screws","item":"screw M6×12","count":4,"way":"out"}
{"by":"emil","kind":"set aside","part":"guard","place":"tray 1 on the bench"}
{"by":"emil","kind":"match marked","at":"coupling"}
{"by":"emil","kind":"released","at":"coupling"}
{"by":"emil","kind":"counted","at":"coupling","item":"clamp screw M8×30","count":2,"way":"out"}
{"by":"emil","kind":"done","task":"sling"}
{"by":"emil","kind":"drained","task":"drain-oil","amounts":{"hydraulic oil":"11.6 L"}}
ENTRIES
enter finding seized --about suction-hose --text "the clamp is rusted solid on the side of the coupling" --by emil | tee "$work/one"
many <<'ENTRIES'
{"by":"emil","kind":"released","at":"suction-hose"}
{"by":"emil","kind":"counted","at":"suction-hose","item":"hose clamp 40-60","count":1,"way":"out"}
{"by":"emil","kind":"plugged","at":"suction-hose"}
{"by":"emil","kind":"released","at":"case-drain"}
{"by":"emil","kind":"plugged","at":"case-drain"}
{"by":"emil","kind":"released","at":"return-hose"}
{"by":"emil","kind":"plugged","at":"return-hose"}
ENTRIES
enter closed "$(finding "$work/one")" --how "came off round the back; clamp renewed" --by frida

echo "== the shift changes"
enter tool-out "ring spanner 19" --count 1 --by emil
enter handing-over dora --by emil
unmoor shift "$shop" $run
enter taken-over emil --by dora
enter left near --system hydraulics --by emil

echo "== Dora goes on; Frida looks, and finds one that was not off"
many <<'ENTRIES'
{"by":"dora","kind":"released","at":"pressure-hose"}
{"by":"dora","kind":"plugged","at":"pressure-hose"}
{"by":"dora","kind":"released","at":"flange-bolts"}
{"by":"dora","kind":"counted","at":"flange-bolts","item":"bolt M12×35","count":4,"way":"out"}
{"by":"frida","kind":"verified","at":"coupling","found":"loose"}
{"by":"frida","kind":"verified","at":"suction-hose","found":"loose"}
{"by":"frida","kind":"verified","at":"case-drain","found":"made"}
{"by":"frida","kind":"verified","at":"return-hose","found":"loose"}
{"by":"frida","kind":"verified","at":"pressure-hose","found":"loose"}
{"by":"frida","kind":"verified","at":"flange-bolts","found":"loose"}
{"by":"emil","kind":"released","at":"case-drain"}
ENTRIES
not enter verified case-drain --found loose --by emil
enter verified case-drain --found loose --by frida

echo "== the lift"
not enter approval lift --lift lift-off --plan $run.p2 --by emil
enter approval lift --lift lift-off --plan "$(unmoor run "$shop" $run --json | sed -n 's/^  "plan": "\(.*\)",$/\1/p')" --signaller dora --by dora
not enter passed lift --lift lift-off --by dora
enter trial lift-off --load "0.6 kN" --by dora
not unmoor gate "$shop" $run lift
enter trial lift-off --load "342 N" --pitch "0.4 deg" --by dora
unmoor gate "$shop" $run lift
enter passed lift --lift lift-off --by dora
enter done lift-off --by dora

echo "== the seal; a screw of the coupling shears as it is cleaned"
enter done shaft-seal/work-1 --reading "seal square and dry" --by dora
enter verified shaft-seal/work-1 --found made --by frida
enter finding sheared --about coupling --text "one clamp screw sheared in the hub" --takes "20 min" --by dora | tee "$work/two"
enter as-found coupling --text "hub tapped M8 with an insert since this job" --by dora
enter closed "$(finding "$work/two")" --how "drilled out, insert set, new screw" --by frida

echo "== back"
many <<'ENTRIES'
{"by":"dora","kind":"undone","task":"lift-off"}
{"by":"dora","kind":"in place","at":"flange-bolts"}
{"by":"dora","kind":"snug","at":"flange-bolts"}
ENTRIES
unmoor gate "$shop" $run start-up | grep "S2  Bolts of the pump flange" || exit 9
not enter torqued flange-bolts --torque "80 lbf·ft" --tool "torque wrench" --by dora
many <<'ENTRIES'
{"by":"dora","kind":"torqued","at":"flange-bolts","torque":"80 N·m","tool":"torque wrench"}
{"by":"emil","kind":"torque value","at":"flange-bolts","torque":"79 N·m","tool":"torque wrench 2"}
{"by":"dora","kind":"counted","at":"flange-bolts","item":"bolt M12×35","count":4,"way":"in"}
{"by":"dora","kind":"refitted","at":"flange-bolts"}
{"by":"dora","kind":"undone","task":"sling"}
{"by":"dora","kind":"torqued","at":"coupling","torque":"35 N·m","tool":"torque wrench"}
{"by":"dora","kind":"counted","at":"coupling","item":"clamp screw M8×30","count":2,"way":"in"}
{"by":"dora","kind":"refitted","at":"coupling"}
{"by":"emil","kind":"unplugged","at":"suction-hose"}
{"by":"emil","kind":"counted","at":"suction-hose","item":"hose clamp 40-60","count":1,"way":"in"}
{"by":"emil","kind":"refitted","at":"suction-hose"}
{"by":"emil","kind":"unplugged","at":"case-drain"}
{"by":"emil","kind":"torqued","at":"case-drain","torque":"40 N·m","tool":"torque wrench"}
{"by":"emil","kind":"refitted","at":"case-drain"}
{"by":"emil","kind":"unplugged","at":"pressure-hose"}
{"by":"emil","kind":"torqued","at":"pressure-hose","torque":"85 N·m","tool":"torque wrench"}
{"by":"emil","kind":"refitted","at":"pressure-hose"}
{"by":"emil","kind":"unplugged","at":"return-hose"}
{"by":"emil","kind":"torqued","at":"return-hose","torque":"60 N·m","tool":"torque wrench"}
{"by":"emil","kind":"refitted","at":"return-hose"}
{"by":"emil","kind":"filled","task":"drain-oil","amounts":{"hydraulic oil":"11.8 L"}}
{"by":"emil","kind":"done","task":"prime","reading":"no air after two minutes"}
ENTRIES
echo "-- Dora books what Emil has done: the contradiction stands until Frida has asked"
enter refitted case-drain --by dora
not enter passed start-up --by frida
key=$(unmoor run "$shop" $run | sed -n 's/^.*settles it: //p')
enter settled "$key" --how "Emil did, Dora booked it again" --by frida

echo "== start-up and hand-over"
many <<'ENTRIES'
{"by":"frida","kind":"verified","at":"coupling","found":"made"}
{"by":"dora","kind":"brought back","part":"guard"}
{"by":"dora","kind":"counted","at":"guard-screws","item":"screw M6×12","count":4,"way":"in"}
{"by":"dora","kind":"refitted","at":"guard-screws"}
{"by":"dora","kind":"tool in","tool":"ring spanner 19","count":1}
ENTRIES
unmoor gate "$shop" $run start-up
enter passed start-up --by frida
enter passed hand-over --by frida
unmoor run "$shop"

echo "== the record"
unmoor run "$shop" $run --export "$work/run.jsonl"
unmoor verify "$work/run.jsonl"
sed 's/"79 N·m"/"97 N·m"/' "$work/run.jsonl" > "$work/changed.jsonl"
not unmoor verify "$work/changed.jsonl"
unmoor backup "$shop" "$work/shop.backup"
unmoor restore "$work/shop.backup" "$work/copy.db"
unmoor run "$work/copy.db" $run --json | grep '"back": 7,'

echo "== the machine comes again"
unmoor order "$shop" demo/bench-pump.vehicle.yaml --job relief-valve --crew demo/shop.crew.yaml \
  --approver dora --foreman frida --by frida --machine BP-0042 | grep "insert"
