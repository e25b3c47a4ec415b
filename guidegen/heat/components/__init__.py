"""The network's components, one file each: its equations as they are printed, and the compiled code that is them."""
