using BackHistory.Service;
using BackHistory.Service.Verbs;

return args is [] or ["--"] ? await BackHistory.Service.Host.Serve(args)
    : args is [FirstAdministrator.Verb, ..] ? await FirstAdministrator.Run(args, Console.Out, Console.Error)
    : args is [RecoverAccountVerb.Verb, ..] ? await RecoverAccountVerb.Run(args, Console.Out, Console.Error)
    : await Verb.Run(args, Console.OpenStandardInput(), Console.OpenStandardOutput(), Console.Error);
