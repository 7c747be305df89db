"""What leaves the shop and what comes back: adopting, verifying, delivering, answers, retiring."""
