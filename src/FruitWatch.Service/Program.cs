return await FruitWatch.Service.Operating.Verbs.RunAsync(args);
