"""The head at ten drive levels: steepening, signs of bubbles, and the sensor before and after."""
