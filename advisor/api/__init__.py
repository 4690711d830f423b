"""What Python programs call: everything that the commands do, without a terminal."""
