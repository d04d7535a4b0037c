using Undersand.Bench.Speed;

switch (args.FirstOrDefault())
{
    case "speed":
        return SpeedBench.Run(args[1..]);
    default:
        Console.Error.WriteLine("Usage: dotnet run --project bench/Undersand.Bench -c Release -- speed [--rounds N] [--threads N] [--write]");
        return 2;
}
