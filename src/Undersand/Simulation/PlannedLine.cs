namespace Undersand.Simulation;

/// <summary>A straight survey line.</summary>
/// <param name="Name">File name of its recording.</param>
/// <param name="StartEasting">Where it begins.</param>
/// <param name="StartNorthing">Where it begins.</param>
/// <param name="Heading">Which way it runs, clockwise from grid north.</param>
/// <param name="Length">Metres.</param>
/// <param name="Speed">m/s.</param>
public sealed record PlannedLine(string Name, double StartEasting, double StartNorthing, Angle Heading, double Length, double Speed);
