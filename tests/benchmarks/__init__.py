"""How fast the papers are made, as ratios that hold on any machine. Run: python -m tests.benchmarks"""
