using Undersand.Bench.Quality;
using Undersand.Bench.Speed;

switch (args.FirstOrDefault())
{
    case "speed":
        return SpeedBench.Run(args[1..]);
    case "quality":
        return QualityBench.Run(args[1..]);
    default:
        Console.Error.WriteLine("Usage: dotnet run --project bench/Undersand.Bench -c Release -- speed [--rounds N] [--threads N] [--write]");
        Console.Error.WriteLine("       dotnet run --project bench/Undersand.Bench -c Release -- quality [quiet|arrays|bands|heights|sediment|clutter|none]... [--first=N] [--write]");
        return 2;
}
