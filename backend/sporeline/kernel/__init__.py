"""Pure rules that the phone has too: clock, fold, due, code, days. Twin of pwa/src/kernel."""
