using BackHistory.Service.Verbs;

return args is [] or ["--"] ? await BackHistory.Service.Host.Serve(args) : await Verb.Run(args, Console.OpenStandardInput(), Console.OpenStandardOutput(), Console.Error);
