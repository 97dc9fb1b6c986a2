"""One told story in a made-up place, played through the API as two phones would."""
