namespace Undersand.Simulation;

/// <summary>A survey that never was.</summary>
/// <param name="Survey">What the surveyor states: the words of <c>survey.json</c>.</param>
/// <param name="Lines">The recordings.</param>
/// <param name="Navigation">Where the vehicle was at each ping, line by line.</param>
/// <param name="Truth">What is really there.</param>
public sealed record SimulatedSurvey(Survey Survey, IReadOnlyList<ISurveyLine> Lines, IReadOnlyList<IReadOnlyList<VehicleState>> Navigation, Truth Truth);
