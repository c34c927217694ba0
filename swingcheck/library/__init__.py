"""What ``import swingcheck`` offers that takes more than one room to answer."""
