"""Six invented notes as a person would dictate them: what the voices of the benchmark read aloud."""

from __future__ import annotations

SCRIPTS: dict[str, str] = {
    "front brakes": """\
Front brakes on the Drayman today. Odometer is one hundred and forty eight thousand three hundred and twelve kilometres.
Wheel nuts are a twenty one millimetre socket.
The caliper slide pin bolts are thirteen millimetres, and I torqued them to thirty four newton metres.
The bracket bolts are eighteen millimetres. The manual says one hundred and seven newton metres.
Both of them are done at one hundred and seven.
Old pads are three millimetres on the left and five millimetres on the right. New pads are eleven millimetres.
Disc thickness is twenty three point four millimetres. The minimum is twenty two.
Brake fluid is D O T four. I bled the left front and used half a litre.
""",
    "engine oil": """\
Engine oil and filter on the Salix. The clock says sixty one thousand eight hundred and seventy seven kilometres.
Drain plug is a seventeen. No wait, it is a fourteen millimetre.
I drained four point one litres and it was black, but there was no glitter in it.
New copper washer on the plug. Torqued the drain plug to thirty five newton metres.
The filter cap went to twenty five newton metres.
Filled with four and a quarter litres of five W thirty.
I bought five litres, so about three quarters of a litre is left.
Next oil change is due at seventy six thousand kilometres.
""",
    "coolant": """\
Coolant and thermostat on the Finch. The odometer reads eighty seven thousand four hundred and fifty miles.
I drained six pints into the pan. It came out rusty brown.
The thermostat housing has three bolts, and all of them are ten millimetres.
The housing bolts are torqued to nine newton metres.
The old thermostat is stamped eighty eight degrees Celsius. The new one began to open at eighty eight degrees.
I filled it with three litres of concentrate and two litres of distilled water.
The cap is marked one point four bar. Pressure tested at one point two bar for ten minutes and there were no leaks.
The lower hose is soft near the clamp. It should be replaced before summer.
""",
    "wheel bearings": """\
Wheel bearings on the Tolvan trailer, left side first.
The castle nut takes an inch and a quarter socket.
Outer bearing looks okay, but the grease is milky. The inner race is pitted, so it all gets replaced.
New seal is part number S nineteen eighty seven.
Spindle measures one point two four nine inches.
I torqued the castle nut to fifty foot pounds while turning the hub, then backed it off a quarter turn.
Tyre pressure was thirty eight psi. I set it to fifty psi.
The lug nuts are torqued to ninety foot pounds. They need to be checked again after fifty miles.
""",
    "motorcycle chain": """\
Chain and fork oil on the Corbie. Twenty four thousand one hundred and eighty miles on the clock.
Chain slack was forty five millimetres. I adjusted it to thirty millimetres.
The axle nut is a twenty seven millimetre socket, torqued to one hundred newton metres.
The fork cap is a thirty two millimetre socket.
Drained the old fork oil. Each leg takes four hundred and eighty five millilitres of ten W fork oil.
The oil level is one hundred and ten millimetres from the top.
The lower clamp bolts are torqued to twenty newton metres.
The upper clamp bolts are torqued to twenty three newton metres.
The front pads have four millimetres left. I did not replace the brake hose.
""",
    "battery": """\
Battery and charging check on the Tarn. Two hundred and three thousand one hundred and eighteen kilometres.
The rested voltage is twelve point one eight volts. While cranking it drops to eight point nine volts.
The terminal clamp nuts are ten millimetres. The hold down bolt is thirteen millimetres.
The alternator puts out fourteen point two volts at idle.
The alternator belt deflection is eighteen millimetres. The book says ten to twelve.
The tensioner bolt is fifteen millimetres. I torqued it to forty newton metres.
The ground strap was corroded, so I cleaned it. The voltage drop was zero point six two volts
and it is zero point zero five now.
I fitted a new battery. It cost one hundred and twenty nine dollars.
""",
}
