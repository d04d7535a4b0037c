Console.WriteLine("undersand");
return 0;
