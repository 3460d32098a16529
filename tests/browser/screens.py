"""The two screens on which pages are looked at."""

SCREENS = {
    "desk": {"viewport": {"width": 1440, "height": 900}},
    "phone": {
        "viewport": {"width": 390, "height": 844},
        "is_mobile": True,
        "has_touch": True,
        "device_scale_factor": 2,
    },
}
