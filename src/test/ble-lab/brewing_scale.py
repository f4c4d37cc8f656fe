#!/usr/bin/python3
"""A Bluetooth LE scale with a brew on it, played through BlueZ's GattManager1 on one adapter.

usage: brewing_scale.py ADAPTER RATE [AWAY_AT AWAY_FOR]

It sends one text line per reading ("  +123.45 g") on a serial-like service. The brew starts when it
is listened to for the first time and goes on whether or not anyone listens: rest, three pours, the
lift of the dripper, rest. At AWAY_AT seconds it behaves as if it were switched off, for AWAY_FOR
seconds. Every pour and the lift are told on standard output.
"""
import sys
import time

import dbus
import dbus.mainloop.glib
import dbus.service
from gi.repository import GLib

SERVICE = "5ca1e000-1ab0-4b1e-9f00-00000000f00d"
WEIGHT = "5ca1e001-1ab0-4b1e-9f00-00000000f00d"
PROPS = "org.freedesktop.DBus.Properties"
CHARACTERISTIC = "org.bluez.GattCharacteristic1"
ROOT = "/brewing/scale"

# start of the pour (s), water (g), flow (g/s)
POURS = [(10.0, 40.0, 5.0), (30.0, 60.0, 5.0), (60.0, 50.0, 5.0)]
LIFT_AT, LIFTED_G, LIFT_S = 84.0, 300.0, 0.4


def grams(t):
    water = sum(min(max(0.0, (t - start) * flow), mass) for start, mass, flow in POURS)
    gone = LIFTED_G * min(max(0.0, (t - LIFT_AT) / LIFT_S), 1.0)
    return water - gone


class Exported(dbus.service.Object):
    def __init__(self, bus, path, interface, props):
        super().__init__(bus, path)
        self.interface, self.props, self.path = interface, props, path

    @dbus.service.method(PROPS, in_signature="s", out_signature="a{sv}")
    def GetAll(self, interface):
        return self.props if interface == self.interface else {}

    @dbus.service.signal(PROPS, signature="sa{sv}as")
    def PropertiesChanged(self, interface, changed, invalidated):
        pass


class Weight(Exported):
    notifying = False
    on_first = None

    @dbus.service.method(CHARACTERISTIC)
    def StartNotify(self):
        self.notifying = True
        if self.on_first:
            self.on_first()

    @dbus.service.method(CHARACTERISTIC)
    def StopNotify(self):
        self.notifying = False


class Advert(Exported):
    @dbus.service.method("org.bluez.LEAdvertisement1")
    def Release(self):
        pass


def main():
    adapter_name, rate = sys.argv[1], float(sys.argv[2])
    away_at, away_for = map(float, sys.argv[3:5]) if len(sys.argv) > 4 else (None, None)
    dbus.mainloop.glib.DBusGMainLoop(set_as_default=True)
    bus = dbus.SystemBus()
    adapter_path = "/org/bluez/" + adapter_name
    adapter = bus.get_object("org.bluez", adapter_path)
    adverts = dbus.Interface(adapter, "org.bluez.LEAdvertisingManager1")
    service = Exported(bus, ROOT + "/s", "org.bluez.GattService1", {"UUID": SERVICE, "Primary": True})
    weight = Weight(bus, ROOT + "/s/w", CHARACTERISTIC, {
        "Service": dbus.ObjectPath(ROOT + "/s"), "UUID": WEIGHT,
        "Flags": dbus.Array(["notify"], signature="s")})
    advert = Advert(bus, ROOT + "/advert", "org.bluez.LEAdvertisement1", {
        "Type": "peripheral", "LocalName": "Brewing Scale", "Discoverable": dbus.Boolean(True),
        "ServiceUUIDs": dbus.Array([SERVICE], signature="s")})
    state = {"start": None, "sent": 0, "away": False, "linked": False, "busy": False, "on": False}

    class Application(dbus.service.Object):
        @dbus.service.method("org.freedesktop.DBus.ObjectManager", out_signature="a{oa{sa{sv}}}")
        def GetManagedObjects(self):
            return {dbus.ObjectPath(o.path): {o.interface: o.props} for o in (service, weight)}

    def tick():
        t = time.monotonic() - state["start"]
        if weight.notifying and not state["away"]:
            line = b"%+9.2f g\r\n" % grams(t)
            weight.PropertiesChanged(CHARACTERISTIC, {"Value": dbus.ByteArray(line)}, [])
        state["sent"] += 1
        due = state["start"] + state["sent"] / rate - time.monotonic()
        GLib.timeout_add(max(0, round(due * 1000)), tick)
        return False

    def begin():
        if state["start"] is None:
            state["start"] = time.monotonic()
            print("brew starts", flush=True)
            tick()
            if away_at is not None:
                GLib.timeout_add(round(away_at * 1000), away)

    def away():
        print("away %.3f" % (time.monotonic() - state["start"]), flush=True)
        state["away"] = True
        tree = dbus.Interface(bus.get_object("org.bluez", "/"),
                              "org.freedesktop.DBus.ObjectManager").GetManagedObjects()
        for path, faces in tree.items():
            device = faces.get("org.bluez.Device1", {})
            if path.startswith(adapter_path + "/") and device.get("Connected"):
                dbus.Interface(bus.get_object("org.bluez", path), "org.bluez.Device1").Disconnect(
                    reply_handler=lambda: None, error_handler=lambda e: None)
        GLib.timeout_add(round(away_for * 1000), back)
        return False

    def back():
        print("back %.3f" % (time.monotonic() - state["start"]), flush=True)
        state["away"] = False
        return False

    def settled(is_on):
        state["busy"], state["on"] = False, is_on

    def announce():
        """Virtual controllers report an advertisement only when it starts, so it starts often."""
        wanted = not state["away"] and not state["linked"]
        if state["busy"]:
            return True
        if state["on"]:
            state["busy"] = True
            adverts.UnregisterAdvertisement(
                advert.path, reply_handler=lambda: settled(False),
                error_handler=lambda e: settled(False))
        elif wanted:
            state["busy"] = True
            adverts.RegisterAdvertisement(
                advert.path, {}, reply_handler=lambda: settled(True),
                error_handler=lambda e: settled(False))
        return True

    def changed(interface, values, invalidated, path):
        if interface == "org.bluez.Device1" and path.startswith(adapter_path + "/"):
            state["linked"] = bool(values.get("Connected", state["linked"]))

    weight.on_first = begin
    app = Application(bus, ROOT)
    assert app
    bus.add_signal_receiver(changed, "PropertiesChanged", PROPS, "org.bluez", path_keyword="path")
    dbus.Interface(adapter, "org.bluez.GattManager1").RegisterApplication(
        ROOT, {}, reply_handler=lambda: print("ready", flush=True),
        error_handler=lambda e: sys.exit("failed: %s" % e))
    GLib.timeout_add(1000, announce)
    GLib.MainLoop().run()


if __name__ == "__main__":
    main()
